import { fetchAllPages } from '../../../api/all-pages';
import { api, type Schemas } from '../../../api/client';

export type Mix = Schemas['Mix'];
export type Batch = Schemas['MixBatch'];
export type Costs = Schemas['MixCosts'];
export type Material = Schemas['StockedMaterial'];
/** A mix with its batches, the newest first; its costs for those who may see money. */
export type Kept = { mix: Mix; batches: Batch[]; costs: Costs | null };
export type Mixing = { kept: Kept[]; materials: Material[] };

/** What is mixed here, of what, and what was made of it. */
export async function readMixing(me: Schemas['Me']): Promise<Mixing> {
  const [mixes, materials] = await Promise.all([
    fetchAllPages('what is mixed here', (query) => api.GET('/api/mixes', { params: { query } })),
    fetchAllPages('what is mixed here', (query) => api.GET('/api/materials', { params: { query } })),
  ]);
  const seesMoney = me.rights.includes('money:read');
  const kept = await Promise.all(
    mixes.map(async (mix) => {
      const path = { mixId: mix.id };
      const batches = await fetchAllPages('what is mixed here', (query) =>
        api.GET('/api/mixes/{mixId}/batches', { params: { path, query } }),
      );
      const costs = seesMoney ? await api.GET('/api/mixes/{mixId}/costs', { params: { path } }) : null;
      return { mix, batches: batches.reverse(), costs: costs?.data ?? null };
    }),
  );
  return { kept, materials };
}
