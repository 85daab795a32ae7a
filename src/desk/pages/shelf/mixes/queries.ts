import { fetchAllPages } from '../../../api/all-pages';
import { api, type Schemas } from '../../../api/client';
import type { Me } from '../../../api/use-me';

export type Mix = Schemas['Mix'];
export type Batch = Schemas['MixBatch'];
export type Costs = Schemas['MixCosts'];
export type Material = Schemas['StockedMaterial'];
/** A mix with its batches, the newest first; its costs for those who may see money. */
export type Kept = { mix: Mix; batches: Batch[]; costs: Costs | null };
export type Mixing = { kept: Kept[]; materials: Material[] };

type Recipes = { mixes: Mix[]; materials: Material[] };

/** What is mixed here, and what it can be mixed of. */
export async function readRecipes(): Promise<Recipes> {
  const [mixes, materials] = await Promise.all([
    fetchAllPages('what is mixed here', (query) => api.GET('/api/mixes', { params: { query } })),
    fetchAllPages('what is mixed here', (query) => api.GET('/api/materials', { params: { query } })),
  ]);
  return { mixes, materials };
}

/** What was made of each, and what that cost where it may be seen. */
export async function readMixing({ rights }: Me, _: AbortSignal, { mixes, materials }: Recipes): Promise<Mixing> {
  const seesMoney = rights.includes('money:read');
  const kept = await Promise.all(
    mixes.map(async (mix) => {
      const path = { mixId: mix.id };
      const [batches, costs] = await Promise.all([
        fetchAllPages('what is mixed here', (query) =>
          api.GET('/api/mixes/{mixId}/batches', { params: { path, query } }),
        ),
        seesMoney ? api.GET('/api/mixes/{mixId}/costs', { params: { path } }) : null,
      ]);
      return { mix, batches: batches.reverse(), costs: costs?.data ?? null };
    }),
  );
  return { kept, materials };
}
