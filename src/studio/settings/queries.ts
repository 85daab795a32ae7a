import type { Transaction } from '../../database/transaction.js';

/**
 * Keeps others from entering or changing the studio until this transaction ends. Its table is locked, since before it is entered there
 * is no row to lock; whoever reads it does not wait.
 */
export async function lockStudioTable(tx: Transaction): Promise<void> {
  await tx.$executeRaw`LOCK TABLE studio IN SHARE ROW EXCLUSIVE MODE`;
}
