import { fetchAllPages } from '../../../api/all-pages';
import { api, Refused, type Schemas } from '../../../api/client';

export type Sale = Schemas['Sale'];
export type Material = Schemas['StockedMaterial'];
export type TaxRate = Schemas['TaxRate'];
export type Person = Schemas['Person'];
/** What the page stands on; whether the studio is registered for VAT decides whether any is inside a price. */
export type Selling = {
  /** the first by name, to choose from; the server finds the others */
  people: PeopleFound;
  materials: Material[];
  taxRates: TaxRate[];
  isRegistered: boolean;
  /** the latest first: those of the last weeks, and 50 at least; `more`: there are earlier ones */
  sales: Sale[];
  more: boolean;
  /** for material, by everybody */
  owedMinor: number;
};

/** Those to choose from, and how many there are of whom they are some. */
export type PeopleFound = { items: Person[]; total: number };

/** So many people are shown at most to choose from. */
const PEOPLE_SHOWN = 50;
/** How many sales are read at once. */
const AT_ONCE = 50;
/** The answer tells of the sales of so many days; all of those are read. */
export const LATELY_DAYS = 28;
const DAY_MILLISECONDS = 86_400_000;
const byName = (a: { name: string }, b: { name: string }) => a.name.localeCompare(b.name);

export async function readSelling({ today }: Schemas['Me'], signal: AbortSignal): Promise<Selling> {
  const [people, materials, rates, studio, debtors, latest] = await Promise.all([
    findPeople('', signal),
    fetchAllPages('what is on the shelf', (query) => api.GET('/api/materials', { params: { query } })),
    api.GET('/api/tax-rates'),
    api.GET('/api/studio'),
    api.GET('/api/debtors'),
    readLatest(new Date(Date.parse(today) - LATELY_DAYS * DAY_MILLISECONDS)),
  ]);
  if (!rates.data || !studio.data || !debtors.data)
    throw new Refused('unknown', 'The server does not say what was sold. Load the page again.');
  return {
    people,
    materials: materials.sort(byName),
    taxRates: rates.data.items,
    isRegistered: studio.data.vatNumber !== null,
    owedMinor: debtors.data.items
      .flatMap(({ charges }) => charges)
      .reduce((sum, { kind, owedMinor }) => sum + (kind === 'material' ? owedMinor : 0), 0),
    ...latest,
  };
}

/** Those whose name, email or phone holds the words; without words the first by name. */
export async function findPeople(words: string, signal: AbortSignal): Promise<PeopleFound> {
  const query = { limit: PEOPLE_SHOWN, order: 'name' as const, ...(words && { q: words }) };
  const { data } = await api.GET('/api/people', { params: { query }, signal });
  if (!data) throw new Refused('unknown', 'The server does not say who there is. Load the page again.');
  return data;
}

/** The latest sales, page after page, until they are older than an instant. */
async function readLatest(since: Date): Promise<Pick<Selling, 'sales' | 'more'>> {
  const sales: Sale[] = [];
  for (;;) {
    const { sales: found, more } = await readSales(sales.at(-1)?.id);
    sales.push(...found);
    if (!more || new Date(found.at(-1)?.at ?? 0) < since) return { sales, more };
  }
}

/** The sales before one, the latest first. */
export async function readSales(before?: string): Promise<Pick<Selling, 'sales' | 'more'>> {
  const query = { limit: AT_ONCE, ...(before && { after: before }) };
  const { data } = await api.GET('/api/sales', { params: { query } });
  if (!data) throw new Refused('unknown', 'The server does not say what was sold. Load the page again.');
  return { sales: data.items, more: data.next !== null };
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
export async function getOwedForSale({ personId, chargeId }: Pick<Sale, 'personId' | 'chargeId'>) {
  const { data } = await api.GET('/api/debtors');
  const debtor = data?.items.find((one) => one.personId === personId);
  const charges = debtor?.charges.filter((charge) => charge.chargeId === chargeId) ?? [];
  const [charge] = charges;
  return debtor && charge ? { ...debtor, charges, owedMinor: charge.owedMinor, dueMinor: charge.dueMinor } : null;
}
