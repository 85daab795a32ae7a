import { BasicList } from '../../../basics/basic-list';
import { SUPPLIERS } from '../../../basics/suppliers';
import { type At, Page } from '../../../ui/page';
import { ShelfTabs } from '../shelf-tabs';

/** Suppliers */
export function SuppliersPage() {
  return (
    <Page question="Suppliers" tabs={(me) => <ShelfTabs me={me} />}>
      {(_, at) => <Lists {...at} />}
    </Page>
  );
}

const Lists = ({ me, formatter }: At) => (
  <BasicList basic={SUPPLIERS} {...{ me, formatter }} mayChange={me.rights.includes('money:write')} />
);
