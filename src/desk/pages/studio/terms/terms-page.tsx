import { BasicList } from '../../../basics/basic-list';
import { REFUND_POLICIES } from '../../../basics/refund-policies';
import { TAX_RATES } from '../../../basics/tax-rates';
import { type At, Page } from '../../../ui/page';
import { StudioTabs } from '../studio-tabs';

/** VAT and refunds */
export function TermsPage() {
  return (
    <Page question="VAT and refunds" tabs={(me) => <StudioTabs me={me} />}>
      {(_, at) => <Lists {...at} />}
    </Page>
  );
}

function Lists({ me, formatter }: At) {
  const shared = { me, formatter, mayChange: me.rights.includes('settings:write') };
  return (
    <>
      <BasicList basic={TAX_RATES} heading="VAT rates" {...shared} />
      <BasicList basic={REFUND_POLICIES} heading="Refund policies" {...shared} />
    </>
  );
}
