import { BasicList } from '../../../basics/basic-list';
import { ROOMS } from '../../../basics/rooms';
import { type At, Page } from '../../../ui/page';
import { StudioTabs } from '../studio-tabs';

/** Rooms */
export function RoomsPage() {
  return (
    <Page question="Rooms" tabs={(me) => <StudioTabs me={me} />}>
      {(_, at) => <Lists {...at} />}
    </Page>
  );
}

const Lists = ({ me, formatter }: At) => (
  <BasicList basic={ROOMS} {...{ me, formatter }} mayChange={me.rights.includes('settings:write')} />
);
