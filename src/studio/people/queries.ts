import type { Transaction } from '../../database/transaction.js';

/** Keeps others from changing the person until this transaction ends; whoever only refers to them is let in. */
export async function lockPersonRow(tx: Transaction, id: string): Promise<void> {
  await tx.$queryRaw`SELECT id FROM person WHERE id = ${id}::uuid FOR NO KEY UPDATE`;
}
