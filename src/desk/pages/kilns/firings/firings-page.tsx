import { api } from '../../../api/client';
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
    <Page question="Firings" tabs={(me) => <KilnsTabs me={me} />} read={readEquipment} searches>
      {(equipment, at) => <Firings {...equipment} {...at} />}
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

function Firings({ kilns, schedules, formatter }: At & Equipment) {
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
