import { api, Refused, type Schemas } from '../client';

export type Mix = Schemas['Mix'];
export type Batch = Schemas['MixBatch'];
export type Costs = Schemas['MixCosts'];
export type Material = Schemas['StockedMaterial'];
/** A mix with its batches, the newest first; its costs for those who may see money. */
export type Kept = { mix: Mix; batches: Batch[]; costs: Costs | null };
export type Mixing = { kept: Kept[]; materials: Material[] };

const AT_ONCE = 200;

type Page<T> = { data?: { items: T[]; next: string | null } | undefined };

async function all<T>(page: (query: { limit: number; after?: string }) => Promise<Page<T>>): Promise<T[]> {
  const found: T[] = [];
  let after: string | undefined;
  do {
    const { data } = await page({ limit: AT_ONCE, ...(after && { after }) });
    if (!data) throw new Refused('unknown', 'The server does not say what is mixed here. Load the page again.');
    found.push(...data.items);
    after = data.next ?? undefined;
  } while (after);
  return found;
}

/** What is mixed here, of what, and what was made of it. */
export async function readMixing(me: Schemas['Me']): Promise<Mixing> {
  const [mixes, materials] = await Promise.all([
    all((query) => api.GET('/api/mixes', { params: { query } })),
    all((query) => api.GET('/api/materials', { params: { query } })),
  ]);
  const seesMoney = me.rights.includes('money:read');
  const kept = await Promise.all(
    mixes.map(async (mix) => {
      const path = { mixId: mix.id };
      const batches = await all((query) => api.GET('/api/mixes/{mixId}/batches', { params: { path, query } }));
      const costs = seesMoney ? await api.GET('/api/mixes/{mixId}/costs', { params: { path } }) : null;
      return { mix, batches: batches.reverse(), costs: costs?.data ?? null };
    }),
  );
  return { kept, materials };
}
