import { BasicList } from '../../../basics/basic-list';
import { CLOSURES } from '../../../basics/closures';
import { type At, Page } from '../../../ui/page';
import { StudioTabs } from '../studio-tabs';

/** Closed days */
export function ClosedDaysPage() {
  return (
    <Page question="Closed days" tabs={(me) => <StudioTabs me={me} />}>
      {(_, at) => <Lists {...at} />}
    </Page>
  );
}

const Lists = ({ me, formatter }: At) => (
  <>
    <p>
      Days on which the studio is closed, for example half-term or a bank holiday. A new series leaves them out, and no
      session is moved onto one unless you say so. The <a href="/courses/calendar">calendar</a> shows them.
    </p>
    <BasicList basic={CLOSURES} {...{ me, formatter }} mayChange={me.rights.includes('settings:write')} />
  </>
);
