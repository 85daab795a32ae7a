import type { Transaction } from '../../database/transaction.js';

/**
 * Lets lists come one after the other until the transaction ends. Two people who bring the same list at once would both find that
 * nothing of it is there, and it would stand in the books twice.
 */
export async function lockImports(tx: Transaction): Promise<void> {
  await tx.$executeRaw`SELECT pg_advisory_xact_lock(hashtext('imports'))`;
}
