import { api, Refused, type Schemas } from '../client';
import type { Material } from './words';

export type Told = { materials: Material[]; values: Map<string, Schemas['StockValueLine']> | null };

/** All materials, those that ask for a count first; what they are worth only for those who may see money. */
export async function readShelf(me: Schemas['Me']): Promise<Told> {
  const materials = await all((after) => api.GET('/api/materials', { params: { query: { limit: 200, after } } }));
  const lines = me.rights.includes('money:read')
    ? await all((after) => api.GET('/api/stock-value', { params: { query: { limit: 200, after } } }))
    : null;
  return { materials, values: lines && new Map(lines.map((line) => [line.materialId, line])) };
}

type Page<T> = { data?: { items: T[]; next: string | null } | undefined };

async function all<T>(read: (after: string | undefined) => Promise<Page<T>>): Promise<T[]> {
  const found: T[] = [];
  for (let after: string | undefined; ; ) {
    const { data } = await read(after);
    if (!data) throw new Refused('unknown', 'The server does not say what is on the shelf. Load the page again.');
    found.push(...data.items);
    if (data.next === null) return found;
    after = data.next;
  }
}
