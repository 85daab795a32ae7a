import type { Transaction } from '../../database/transaction.js';

/**
 * Keeps others from entering or changing the studio until this transaction ends. Its table is locked, since before it is entered there
 * is no row to lock; whoever reads it does not wait.
 */
export async function lockStudioTable(tx: Transaction): Promise<void> {
  await tx.$executeRaw`LOCK TABLE studio IN SHARE ROW EXCLUSIVE MODE`;
}

/** Forgets each logo that neither the studio shows nor a paper names: what was uploaded by mistake is not kept. */
export async function dropUnusedLogos(tx: Transaction): Promise<void> {
  await tx.$executeRaw`
    DELETE FROM logo WHERE NOT EXISTS (SELECT FROM studio WHERE logo_sha256 = logo.sha256)
      AND NOT EXISTS (SELECT FROM document WHERE logo_sha256 = logo.sha256)`;
}

/** The most benches of a room that are in use at once. That is at the start of some session. */
export async function mostBenches(tx: Transaction, roomId: string): Promise<number> {
  const rows = await tx.$queryRaw<{ benches: number }[]>`
    SELECT coalesce(max(used), 0)::int AS benches FROM (
      SELECT (SELECT sum(t.benches) FROM session t WHERE t.room_id = s.room_id AND t.cancelled_at IS NULL
                 AND t.starts_at <= s.starts_at AND s.starts_at < t.ends_at) AS used
        FROM session s WHERE s.room_id = ${roomId}::uuid) moments`;
  return rows[0]?.benches ?? 0;
}
