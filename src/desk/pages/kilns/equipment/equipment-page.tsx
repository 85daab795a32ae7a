import { formatPercent } from '../../../../trade/text/format.js';
import { capital } from '../../../format/formatter';
import { DataTable } from '../../../ui/data-table';
import { type At, Page } from '../../../ui/page';
import { KilnsTabs } from '../kilns-tabs';
import { type Kiln, listKilns, listSchedules, type Schedule } from '../queries';
import { answerOf, chamberOf, lasting, stepOf } from './labels';

type Equipment = { kilns: Kiln[]; schedules: Schedule[] };

/** What is there to fire with? */
export function EquipmentPage() {
  return (
    <Page question="Kilns and schedules" tabs={(me) => <KilnsTabs me={me} />} read={readEquipment}>
      {(equipment, at) => <Shown {...equipment} {...at} />}
    </Page>
  );
}

async function readEquipment(): Promise<Equipment> {
  const [kilns, schedules] = await Promise.all([listKilns(), listSchedules()]);
  return { kilns, schedules };
}

function Shown({ kilns, schedules, formatter: { locale } }: At & Equipment) {
  return (
    <>
      <p class="answer">{capital(answerOf(kilns.length, schedules.length))}</p>
      {kilns.length > 0 && (
        <section>
          <h2>Kilns</h2>
          <DataTable
            caption="Kilns"
            columns={[
              { head: 'Kiln', cell: ({ id, name }: Kiln) => <a href={`/kilns?kilnId=${id}`}>{name}</a> },
              { head: 'Chamber, inside', cell: chamberOf },
              { head: 'Power', figures: true, cell: ({ ratedKw }) => `${ratedKw} kW` },
              {
                head: 'Usual fill, assumed',
                figures: true,
                cell: ({ fillPercent }) => formatPercent(fillPercent, locale),
              },
              { head: 'Cooling', figures: true, cell: ({ coolingHours }) => `${coolingHours} hours` },
            ]}
            rows={kilns}
            keyOf={({ id }) => id}
          />
        </section>
      )}
      {schedules.length > 0 && (
        <section>
          <h2>Schedules</h2>
          <DataTable
            caption="Schedules"
            columns={[
              { head: 'Schedule', cell: ({ name }: Schedule) => name },
              { head: 'For', cell: ({ kind }) => capital(kind) },
              { head: 'Cone', cell: ({ cone }) => cone ?? '' },
              { head: 'Top', figures: true, cell: ({ topC }) => `${topC} °C` },
              { head: 'Programmed', figures: true, cell: ({ programmedMinutes }) => lasting(programmedMinutes) },
              { head: 'Steps', cell: Steps },
            ]}
            rows={schedules}
            keyOf={({ id }) => id}
          />
          <p class="quiet">
            The programmed time starts at 20 °C and leaves out cooling that nothing controls. A real kiln takes longer.
          </p>
        </section>
      )}
    </>
  );
}

function Steps({ segments }: Schedule) {
  return (
    <ol class="steps">
      {segments.map((segment, i) => (
        <li key={i}>{stepOf(segment)}</li>
      ))}
    </ol>
  );
}
