import { oneAtATime } from '../../database/one-at-a-time.js';
import type { Transaction } from '../../database/transaction.js';

/**
 * Lets nobody else write a recipe until this transaction ends. Two mixes that have no material in common can make a third level
 * between them, so that locking materials would not be enough.
 */
export async function lockRecipes(tx: Transaction): Promise<void> {
  await tx.$executeRaw`LOCK TABLE mix IN SHARE ROW EXCLUSIVE MODE`;
}

export interface LatestRecipe {
  mixId: string;
  productId: string;
  name: string;
  partIds: string[];
}

/** Each mix with the parts of its latest version. Under lockRecipes(), or another may be written meanwhile. */
export async function listLatestRecipes(tx: Transaction): Promise<LatestRecipe[]> {
  return tx.$queryRaw<LatestRecipe[]>`
    SELECT m.id AS "mixId", m.product_id AS "productId", product.name,
           array(SELECT material_id FROM mix_part WHERE version_id = v.id ORDER BY ordinal) AS "partIds"
      FROM mix m JOIN material product ON product.id = m.product_id
      JOIN LATERAL (SELECT id FROM mix_version WHERE mix_id = m.id ORDER BY number DESC LIMIT 1) v ON true
     ORDER BY m.id`;
}

/** The number of the last batch; nobody else makes one until this transaction ends, or two buckets would bear the same. */
export async function lockBatchNumber(tx: Transaction): Promise<number> {
  await oneAtATime(tx, 'numbering batches');
  const { _max } = await tx.mixBatch.aggregate({ _max: { number: true } });
  return _max.number ?? 0;
}

/** What is left of each of these lots. */
export async function getRemaining(tx: Transaction, lotIds: readonly string[]): Promise<Map<string, number>> {
  const lots = await tx.lot.findMany({ where: { id: { in: [...lotIds] } }, select: { id: true, leftQuantity: true } });
  return new Map(lots.map(({ id, leftQuantity }) => [id, leftQuantity]));
}

/** What each batch of a mix cost, oldest first. */
export async function getBatchCosts(tx: Transaction, mixId: string): Promise<{ batchId: string; costMinor: number }[]> {
  return tx.$queryRaw`
    SELECT b.id AS "batchId", l.cost_minor AS "costMinor"
      FROM mix_batch b JOIN mix_version v ON v.id = b.version_id JOIN lot l ON l.id = b.lot_id
     WHERE v.mix_id = ${mixId}::uuid ORDER BY b.number`;
}
