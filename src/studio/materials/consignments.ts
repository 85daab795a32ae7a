import type { Transaction } from '../../database/transaction.js';
import { toDate } from '../../database/values.js';
import { newId } from '../../http/ids.js';
import type { Consignment, NewConsignment } from './consignment-contract.js';
import type { CostedLot } from './contract.js';
import { receiveLot } from './service.js';

/**
 * Puts on the shelf what came together, as a lot of each material.
 * The materials are locked in the order of their ids, or two deliveries could wait for each other.
 */
export async function receiveConsignment(
  tx: Transaction,
  now: Date,
  { supplier, receivedOn, lots, orderId = null }: NewConsignment & { orderId?: string | null },
): Promise<Consignment> {
  const id = newId();
  await tx.consignment.create({ data: { id, supplier, receivedOn: toDate(receivedOn), orderId, createdAt: now } });
  const received = new Map<number, CostedLot>();
  const inOrder = lots.map((lot, i) => ({ ...lot, i })).sort((a, b) => a.materialId.localeCompare(b.materialId));
  for (const { i, ...lot } of inOrder)
    received.set(i, await receiveLot(tx, now, { ...lot, supplier, receivedOn, consignmentId: id }));
  const shown = lots.flatMap(({ materialId }, i) => {
    const lot = received.get(i);
    return lot ? [{ lotId: lot.id, materialId, quantity: lot.quantity, costMinor: lot.costMinor }] : [];
  });
  return { id, supplier, receivedOn, orderId, lots: shown };
}
