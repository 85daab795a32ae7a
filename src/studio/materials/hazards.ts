import type { Transaction } from '../../database/transaction.js';
import type { Hazard } from '../../documents/hazard-words.js';
import { getMaterialsById } from './service.js';

/** What these materials warn of, by their ids. */
export async function hazardsById(tx: Transaction, materialIds: readonly string[]): Promise<Map<string, Hazard>> {
  if (materialIds.length === 0) return new Map();
  const found = await getMaterialsById(tx, [...new Set(materialIds)]);
  return new Map(
    [...found].map(([id, { name, kind, hazardNote }]) => [id, { name, kind, warning: hazardNote }] as const),
  );
}

/** The same, each once, in the order in which they are named. */
export async function hazardsOf(tx: Transaction, materialIds: readonly string[]): Promise<Hazard[]> {
  const found = await hazardsById(tx, materialIds);
  return [...new Set(materialIds)].flatMap((id) => found.get(id) ?? []);
}
