import type { Transaction } from '../../database/transaction.js';
import type { Hazard } from '../../documents/hazard-words.js';
import { getMaterialsById } from './service.js';

/** What these materials warn of, each once, in the order in which they are named. */
export async function hazardsOf(tx: Transaction, materialIds: readonly string[]): Promise<Hazard[]> {
  const ids = [...new Set(materialIds)];
  const found = ids.length === 0 ? new Map() : await getMaterialsById(tx, ids);
  return ids.flatMap((id): Hazard[] => {
    const material = found.get(id);
    return material ? [{ name: material.name, kind: material.kind, warning: material.hazardNote }] : [];
  });
}
