import { api, Refused, type Schemas } from '../client';
import { every } from '../every';

export type Sale = Schemas['Sale'];
export type Material = Schemas['StockedMaterial'];
export type TaxRate = Schemas['TaxRate'];
export type Person = Schemas['Person'];
/** What the page stands on; whether the studio is registered for VAT decides whether any is inside a price. */
export type Selling = {
  people: Person[];
  materials: Material[];
  taxRates: TaxRate[];
  isRegistered: boolean;
  /** the latest first */
  sales: Sale[];
};

/** The latest sales that the page shows; all stand under /api/sales. */
const SHOWN = 50;
const byName = (a: { name: string }, b: { name: string }) => a.name.localeCompare(b.name);

export async function readSelling(): Promise<Selling> {
  const [people, materials, rates, studio, latest] = await Promise.all([
    every('who there is', (query) => api.GET('/api/people', { params: { query } })),
    every('what is on the shelf', (query) => api.GET('/api/materials', { params: { query } })),
    api.GET('/api/tax-rates'),
    api.GET('/api/studio'),
    api.GET('/api/sales', { params: { query: { limit: SHOWN } } }),
  ]);
  if (!rates.data || !studio.data || !latest.data)
    throw new Refused('unknown', 'The server does not say what was sold. Load the page again.');
  return {
    people: people.sort(byName),
    materials: materials.sort(byName),
    taxRates: rates.data.items,
    isRegistered: studio.data.vatNumber !== null,
    sales: latest.data.items,
  };
}

/** What a material is sold for, and the tag under which that was read. */
export type Usual = { price: Schemas['SellingPrice']; etag: string };

export async function readUsual(materialId: string): Promise<Usual> {
  const params = { path: { materialId } };
  const { data, response } = await api.GET('/api/materials/{materialId}/selling-price', { params });
  if (!data) throw new Refused('unknown', 'The server does not say what it is sold for. Choose it again.');
  return { price: data, etag: response.headers.get('etag') ?? '' };
}

/** What somebody owes for one charge alone, as the payment form takes it; null where it is paid. */
export async function owedFor({ personId, chargeId }: Pick<Sale, 'personId' | 'chargeId'>) {
  const { data } = await api.GET('/api/debtors');
  const debtor = data?.items.find((one) => one.personId === personId);
  const charges = debtor?.charges.filter((charge) => charge.chargeId === chargeId) ?? [];
  const [charge] = charges;
  return debtor && charge ? { ...debtor, charges, owedMinor: charge.owedMinor, dueMinor: charge.dueMinor } : null;
}
