import { BasicList } from '../../../basics/basic-list';
import { MATERIALS } from '../../../basics/materials';
import { type At, Page } from '../../../ui/page';
import { ShelfTabs } from '../shelf-tabs';

/** Materials */
export function MaterialsPage() {
  return (
    <Page question="Materials" tabs={(me) => <ShelfTabs me={me} />}>
      {(_, at) => <Lists {...at} />}
    </Page>
  );
}

const Lists = ({ me, formatter }: At) => (
  <BasicList basic={MATERIALS} {...{ me, formatter }} mayChange={me.rights.includes('money:write')} />
);
