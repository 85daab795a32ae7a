import { useCallback } from 'preact/hooks';
import { Decimal } from '../../../../trade/money/money.js';
import { api, type Schemas } from '../../../api/client';
import { useQuery } from '../../../api/query';
import { type Column, DataTable } from '../../../ui/data-table';
import { Disclosure } from '../../../ui/disclosure';
import { LookedUp } from '../../../ui/looked-up';
import type { Words } from './labels';

type Load = Schemas['KilnLoads']['loads'][number];
type Props = { courseId: string; expectedBooked: string; words: Words };

/** Which kiln loads the course causes, and when: the glazing session is where it gets tight. Asked for once somebody wants to see it. */
export function KilnLoads(props: Props) {
  return (
    <Disclosure late title="Kiln loads" note="at the kilns’ usual fill; allow for queueing">
      <Loads {...props} />
    </Disclosure>
  );
}

function Loads({ courseId, expectedBooked, words }: Props) {
  const read = useCallback(
    async (signal: AbortSignal): Promise<Load[]> => {
      const { data } = await api.GET('/api/courses/{courseId}/kiln-loads', { params: { path: { courseId } }, signal });
      return data?.loads ?? [];
    },
    [courseId],
  );
  const query = useQuery({ key: ['kiln loads', courseId], read });
  const columns: Column<Load>[] = [
    { head: 'Firing', cell: ({ schedule, kiln }) => `${schedule}, ${kiln}` },
    {
      ...{ head: 'Loads expected', figures: true },
      cell: ({ perStudent }) => loadsOf(new Decimal(perStudent).times(expectedBooked), words),
    },
    { head: 'If full', figures: true, cell: ({ ifFull }) => loadsOf(new Decimal(ifFull), words) },
    { head: 'Between', cell: (load) => between(load, words) },
  ];
  return (
    <LookedUp what="the kiln loads" query={query}>
      {(loads) =>
        loads.length === 0 ? (
          <p>Nothing of this course is fired.</p>
        ) : (
          <DataTable
            caption="The kiln loads that this course causes, and when"
            columns={columns}
            rows={loads}
            keyOf={(load) => String(loads.indexOf(load))}
          />
        )
      }
    </LookedUp>
  );
}

const loadsOf = (loads: Decimal, words: Words): string => words.quantity(loads.toDecimalPlaces(1).toFixed(), 'loads');

const HOURS_A_DAY = 24;

/** "from 3 March 2027, cold by 10 March 2027: 4 days to spare". */
export function between({ from, outBy, spareHours }: Load, { day }: Pick<Words, 'day'>): string {
  if (outBy === null || spareHours === null) return `from ${day(from)}; no session depends on it`;
  if (spareHours < 0) return `from ${day(from)}; it can’t be cold by ${day(outBy)}`;
  const spare = spareHours < 2 * HOURS_A_DAY ? `${spareHours} hours` : `${Math.floor(spareHours / HOURS_A_DAY)} days`;
  return `from ${day(from)}, cold by ${day(outBy)}: ${spare} to spare`;
}
