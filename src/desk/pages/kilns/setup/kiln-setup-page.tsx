import { BasicList } from '../../../basics/basic-list';
import { KILNS } from '../../../basics/kilns';
import { SCHEDULES } from '../../../basics/schedules';
import { type At, Page } from '../../../ui/page';

const readNothing = async () => null; // each list below asks for itself

/** A kiln or a firing schedule is added. */
export function KilnSetupPage() {
  return (
    <Page question="Kilns and firing schedules" read={readNothing}>
      {(_, at) => <Lists {...at} />}
    </Page>
  );
}

function Lists({ me, formatter }: At) {
  const shared = { me, formatter, mayChange: me.rights.includes('settings:write') };
  return (
    <>
      <BasicList basic={KILNS} heading="Kilns" {...shared} />
      <BasicList basic={SCHEDULES} heading="Firing schedules" {...shared} />
    </>
  );
}
