import { BasicList } from '../../../basics/basic-list';
import { SUPPLIERS } from '../../../basics/suppliers';
import { type At, Page } from '../../../ui/page';
import { ShelfTabs } from '../shelf-tabs';

const readNothing = async () => null; // each list below asks for itself

/** Suppliers */
export function SuppliersPage() {
  return (
    <Page question="Suppliers" tabs={(me) => <ShelfTabs me={me} />} read={readNothing}>
      {(_, at) => <Lists {...at} />}
    </Page>
  );
}

const Lists = ({ me, formatter }: At) => (
  <BasicList basic={SUPPLIERS} {...{ me, formatter }} mayChange={me.rights.includes('money:write')} />
);
