import { BasicList, useBasics } from '../../../basics/basic-list';
import { BOARDS } from '../../../basics/boards';
import { KILNS } from '../../../basics/kilns';
import { SCHEDULES } from '../../../basics/schedules';
import { capital, count } from '../../../format/formatter';
import { type At, Page } from '../../../ui/page';
import { KilnsTabs } from '../kilns-tabs';

/** What is there to fire with, and where does ware wait? */
export function EquipmentPage() {
  return (
    <Page question="Kilns and equipment" tabs={(me) => <KilnsTabs me={me} />}>
      {(_, at) => <Equipment {...at} />}
    </Page>
  );
}

function Equipment({ me, formatter }: At) {
  const { data: kilns } = useBasics(KILNS);
  const { data: schedules } = useBasics(SCHEDULES);
  const shared = { me, formatter };
  const mayChange = me.rights.includes('settings:write');
  return (
    <>
      <p class="answer">{kilns && schedules ? answerOf(kilns.length, schedules.length) : ' '}</p>
      <BasicList basic={KILNS} heading="Kilns" {...{ ...shared, mayChange }} />
      <BasicList basic={SCHEDULES} heading="Firing schedules" {...{ ...shared, mayChange }}>
        <p class="quiet">
          The programmed time starts at 20 °C and leaves out cooling that nothing controls. A real kiln takes longer.
        </p>
      </BasicList>
      <BasicList
        basic={BOARDS}
        heading="Ware boards and shelves"
        {...shared}
        mayChange={me.rights.includes('ware:write')}
      />
    </>
  );
}

/** "Two kilns and three firing schedules." */
const answerOf = (kilns: number, schedules: number): string =>
  kilns === 0 ? 'No kiln yet.' : `${capital(count(kilns, 'kiln'))} and ${count(schedules, 'firing schedule')}.`;
