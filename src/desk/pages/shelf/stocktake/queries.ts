import { fetchAllPages } from '../../../api/all-pages';
import { api, type Schemas } from '../../../api/client';
import type { Material } from './labels';

export type Told = { materials: Material[]; values: Map<string, Schemas['StockValueLine']> | null };

/** All materials, those that ask for a count first; what they are worth only for those who may see money. */
export async function readShelf(me: Schemas['Me']): Promise<Told> {
  const what = 'what is on the shelf';
  const [materials, lines] = await Promise.all([
    fetchAllPages(what, (query) => api.GET('/api/materials', { params: { query } })),
    me.rights.includes('money:read')
      ? fetchAllPages(what, (query) => api.GET('/api/stock-value', { params: { query } }))
      : null,
  ]);
  return { materials, values: lines && new Map(lines.map((line) => [line.materialId, line])) };
}
