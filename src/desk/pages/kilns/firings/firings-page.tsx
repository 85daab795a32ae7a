import { api, signInFirst } from '../../../api/client';
import { useQuery } from '../../../api/query';
import type { Column } from '../../../ui/data-table';
import { type At, Page } from '../../../ui/page';
import { type Filter, type ListQuery, SearchList } from '../../../ui/search-list';
import { KilnsTabs } from '../kilns-tabs';
import { type Kiln, listKilns, listSchedules, type Schedule } from '../queries';
import { type Firing, firingCalled, phaseOf, STATES, timesOf } from './labels';

type Equipment = { kilns: Kiln[]; schedules: Schedule[] };

/** What is fired, and when? */
export function FiringsPage() {
  return (
    <Page question="Firings" tabs={(me) => <KilnsTabs me={me} />} searches>
      {(_, at) => <Firings {...at} />}
    </Page>
  );
}

async function readEquipment(): Promise<Equipment> {
  const [kilns, schedules] = await Promise.all([listKilns(), listSchedules()]);
  return { kilns, schedules };
}

async function readFirings({ q, state, kilnId }: ListQuery, after: string | undefined, signal: AbortSignal) {
  const query = { q, kilnId, state: state as Firing['state'] | undefined, after, order: 'newest' as const };
  const { data } = await api.GET('/api/firings', { params: { query }, signal });
  if (!data) throw new Error('The firings could not be loaded. Load the page again.');
  return data;
}

/** The list is there without them: a kiln is chosen, and a phase told, once they are. */
function useEquipment(): Equipment {
  const { data, error } = useQuery({ key: ['firing equipment'], read: readEquipment });
  if (error) signInFirst(error);
  return data ?? { kilns: [], schedules: [] };
}

function Firings({ formatter }: At) {
  const { kilns, schedules } = useEquipment();
  const filters: Filter[] = [
    { name: 'state', label: 'State', choices: [['', 'Any state'], ...Object.entries(STATES)] },
    { name: 'kilnId', label: 'Kiln', choices: [['', 'Any kiln'], ...kilns.map(({ id, name }) => [id, name] as const)] },
  ];
  const scheduleOf = new Map(schedules.map((schedule) => [schedule.id, schedule]));
  const now = Date.now();
  const columns: Column<Firing>[] = [
    { head: 'Firing', cell: firingCalled },
    { head: 'Kiln', cell: ({ kilnName }) => kilnName },
    { head: 'Schedule', cell: ({ scheduleName }) => scheduleName },
    { head: 'When', cell: (firing) => timesOf(firing, formatter) },
    { head: 'Pieces', figures: true, cell: ({ pieces }) => pieces },
    {
      head: 'State',
      cell: (firing) => (
        <span>
          <span class={firing.state === 'failed' ? 'iron' : undefined}>
            {phaseOf(firing, scheduleOf.get(firing.scheduleId), now)}
          </span>
          {firing.failedBecause && <small> {firing.failedBecause}</small>}
          {firing.overruns && <small class="iron"> runs into firing {firing.overruns.number}</small>}
        </span>
      ),
    },
  ];
  return (
    <SearchList
      rows={['firing', 'firings']}
      searchLabel="Number, kiln or schedule"
      filters={filters}
      read={readFirings}
      columns={columns}
      keyOf={({ id }) => id}
      none="No firing has been planned yet."
    />
  );
}
