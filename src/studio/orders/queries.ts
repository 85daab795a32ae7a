import { oneAtATime } from '../../database/one-at-a-time.js';
import type { Transaction } from '../../database/transaction.js';

/** The number of the last order; nobody else makes one until this transaction ends, or two would bear the same. */
export async function lockOrderNumber(tx: Transaction): Promise<number> {
  await oneAtATime(tx, 'numbering orders');
  const { _max } = await tx.supplyOrder.aggregate({ _max: { number: true } });
  return _max.number ?? 0;
}

/** Locks an order before its state is looked at: of two who place it at once, one would otherwise issue a second paper. */
export async function lockOrder(tx: Transaction, id: string): Promise<void> {
  await tx.$queryRaw`SELECT 1 FROM supply_order WHERE id = ${id}::uuid FOR UPDATE`;
}

/** How much has come of each material of each of these orders, under "order id, space, material id". */
export async function receivedOf(tx: Transaction, orderIds: readonly string[]): Promise<Map<string, number>> {
  const rows = await tx.$queryRaw<{ key: string; quantity: number }[]>`
    SELECT c.order_id || ' ' || lot.material_id AS key, sum(lot.quantity)::float8 AS quantity
      FROM consignment c JOIN lot ON lot.consignment_id = c.id
     WHERE c.order_id = ANY(${orderIds}::uuid[]) GROUP BY c.order_id, lot.material_id`;
  return new Map(rows.map(({ key, quantity }) => [key, quantity]));
}
