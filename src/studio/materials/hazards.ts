import type { Transaction } from '../../database/transaction.js';
import type { Hazard } from '../../documents/hazard-words.js';
import { materialsById } from './service.js';

/** What each of these materials warns of, each once, in the order in which they are named. */
export async function hazardsOf(tx: Transaction, materialIds: readonly string[]): Promise<Hazard[]> {
  const found = await materialsById(tx, materialIds);
  return [...new Set(materialIds)].flatMap((id) => {
    const material = found.get(id);
    return material ? [{ name: material.name, kind: material.kind, warning: material.hazardNote }] : [];
  });
}
