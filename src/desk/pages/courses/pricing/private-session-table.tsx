import type { Schemas } from '../../../api/client';
import { type Column, DataTable } from '../../../ui/data-table';
import type { Words } from './labels';

type Rung = Schemas['PrivateRung'];
type Props = { caption: string; rungs: readonly Rung[]; groupOf: number; words: Words };

/** Each number of heads: what they pay, and what comes of it. */
export function Heads({ caption, rungs, groupOf, words: { money } }: Props) {
  const columns: Column<Rung>[] = [
    {
      ...{ head: 'People', headInCard: true },
      cell: (rung) => (
        <>
          {rung.heads} {rung.heads > groupOf && <small>above the group</small>}
        </>
      ),
    },
    { head: 'They pay', figures: true, cell: ({ chargedMinor }) => money(chargedMinor) },
    {
      ...{ head: 'Left over', figures: true },
      cell: ({ resultMinor }) => money(resultMinor),
      toneOf: ({ resultMinor }) => (Number(resultMinor) < 0 ? 'iron' : undefined),
    },
    { head: 'Your pay an hour', figures: true, cell: ({ ownerPayPerHourMinor }) => money(ownerPayPerHourMinor) },
    { head: 'They break even at', figures: true, cell: ({ floorMinor }) => money(floorMinor) },
  ];
  return (
    <section>
      <DataTable
        class="rungs"
        caption={caption}
        captionShown
        columns={columns}
        rows={rungs}
        keyOf={({ heads }) => String(heads)}
      />
    </section>
  );
}
