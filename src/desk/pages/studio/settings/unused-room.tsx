import { formatMoney } from '../../../../trade/money/money.js';
import { api, type Schemas } from '../../../api/client';
import { type Column, DataTable } from '../../../ui/data-table';

export type Unused = Schemas['UnusedRoom'];

/** What each choice of who pays for empty kiln room is called, in the order in which it is offered. */
export const EMPTY_SPACE: readonly (readonly [Unused['choices'][number]['emptySpace'], string])[] = [
  ['studio', 'The studio'],
  ['usual', 'The makers, at the usual fill'],
  ['spread', 'The makers, all of it'],
];

export const getUnusedRoom = async (signal: AbortSignal): Promise<Unused | null> =>
  (await api.GET('/api/unused-room', { signal })).data ?? null;

/** What each choice would have meant over the last firings; nothing while there are none. */
export function UnusedRoom({ unused, locale }: { unused: Unused | null; locale: string }) {
  if (!unused || unused.firings === 0) return null;
  const money = (minor: number) => formatMoney(minor, unused.currency, locale);
  const columns: Column<Unused['choices'][number]>[] = [
    {
      head: 'Empty room paid by',
      cell: ({ emptySpace, isSet }) => `${new Map(EMPTY_SPACE).get(emptySpace)}${isSet ? ', as now' : ''}`,
    },
    { head: 'Makers', figures: true, cell: ({ makersMinor }) => money(makersMinor) },
    { head: 'Courses', figures: true, cell: ({ coursesMinor }) => money(coursesMinor) },
    { head: 'You', figures: true, cell: ({ studioMinor }) => money(studioMinor) },
  ];
  return (
    <div class="field whole">
      <DataTable
        caption={caption(unused, money)}
        captionShown
        columns={columns}
        rows={unused.choices}
        keyOf={({ emptySpace }) => emptySpace}
        fitsPhone
      />
    </div>
  );
}

/** "Your last firing cost £55.27, your time included." */
function caption({ firings, costMinor }: Pick<Unused, 'firings' | 'costMinor'>, money: (minor: number) => string) {
  const which = firings === 1 ? 'Your last firing' : `Your last ${firings} firings`;
  return `${which} cost ${money(costMinor)}, your time included. By each choice it would have fallen to`;
}
