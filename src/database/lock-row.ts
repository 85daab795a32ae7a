import { Prisma } from './generated/client.js';
import type { Transaction } from './transaction.js';

/** What is set up once and corrected now and then. */
type Kept =
  | 'board'
  | 'closure'
  | 'kiln'
  | 'membership'
  | 'membership_kind'
  | 'refund_policy'
  | 'room'
  | 'schedule'
  | 'supplier'
  | 'tariff'
  | 'tax_rate';

/** Keeps others from changing or removing the row until this transaction ends; whoever only refers to it is let in. */
export async function lockRow(tx: Transaction, table: Kept, id: string): Promise<void> {
  await tx.$queryRaw`SELECT id FROM ${Prisma.raw(table)} WHERE id = ${id}::uuid FOR NO KEY UPDATE`;
}
