import { useMemo } from 'preact/hooks';
import { fetchAllPages } from '../../../api/all-pages';
import { api, Refused, type Schemas } from '../../../api/client';
import { BasicList } from '../../../basics/basic-list';
import { type At, Page } from '../../../ui/page';
import { PeopleTabs } from '../people-tabs';
import { membershipKinds } from './kind-basic';

type Found = { rates: Schemas['TaxRate'][]; clays: Schemas['StockedMaterial'][] };

/** On what terms can people be members? */
export function MembershipKindsPage() {
  return (
    <Page question="Kinds of membership" tabs={(me) => <PeopleTabs me={me} />} first={readChoices}>
      {(found, at) => <Kinds {...found} {...at} />}
    </Page>
  );
}

async function readChoices(signal: AbortSignal): Promise<Found> {
  const [rates, materials] = await Promise.all([
    api.GET('/api/tax-rates', { signal }),
    fetchAllPages('which clays there are', (query) => api.GET('/api/materials', { params: { query }, signal })),
  ]);
  if (!rates.data) throw new Refused('unknown', 'The VAT rates could not be loaded. Load the page again.');
  return { rates: rates.data.items, clays: materials.filter(({ kind }) => kind === 'clay') };
}

function Kinds({ rates, clays, me, formatter }: At & Found) {
  const mayChange = me.rights.includes('settings:write');
  const basic = useMemo(() => membershipKinds({ rates, clays, mayChange, today: me.today }), [rates, clays, mayChange]);
  return (
    <BasicList basic={basic} {...{ me, formatter, mayChange }}>
      <p class="quiet">
        What is included is for each month, and not carried over. Beyond it members pay the usual prices: of the bench,
        of the firing, of the clay.
      </p>
    </BasicList>
  );
}
