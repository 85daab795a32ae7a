import type { Transaction } from '../../database/transaction.js';
import { fromDate, toDate } from '../../database/values.js';
import { newId } from '../../http/ids.js';
import { Problem } from '../../problems.js';
import { splitExactly } from '../../trade/money/money.js';
import { addedToDrawnMinor } from '../../trade/stock/fifo.js';
import type { CarriageBill, Consignment, NewCarriage, NewConsignment } from './consignment-contract.js';
import type { CostedLot } from './contract.js';
import { listLotsTogether } from './queries.js';
import { receiveLot } from './service.js';
import { lockMaterialStock } from './stock-moves.js';

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

/** A consignment by id, with its lots at what they cost by now. */
export async function getConsignment(tx: Transaction, id: string): Promise<Consignment> {
  const row = await tx.consignment.findUnique({ where: { id } });
  if (!row) throw new Problem('not-found', 'No consignment has this id: it is in the answer to its receipt.');
  const lots = await listLotsTogether(tx, id);
  return {
    ...{ id, supplier: row.supplier, receivedOn: fromDate(row.receivedOn), orderId: row.orderId },
    lots: lots.map(({ id: lotId, materialId, quantity, costMinor }) => ({ lotId, materialId, quantity, costMinor })),
  };
}

/**
 * Lays the carriage of a consignment on its lots by what they cost: their mass would be fairer, but isn't known of what is counted in
 * ml or pieces. Where all came free, each lot bears the same. What falls on the part of a lot that was drawn already leaves the shelf
 * at once by a move of its own; those draws and the courses they were for keep the cost that they had.
 */
export async function shareCarriage(
  tx: Transaction,
  now: Date,
  consignmentId: string,
  { amountMinor, note }: NewCarriage,
): Promise<CarriageBill> {
  const { lots: together } = await getConsignment(tx, consignmentId);
  for (const materialId of [...new Set(together.map((lot) => lot.materialId))].sort())
    await lockMaterialStock(tx, materialId);
  const lots = await listLotsTogether(tx, consignmentId); // once more: one may have been drawn before its lock was got
  const costs = lots.map(({ costMinor }) => costMinor);
  const parts = splitExactly(amountMinor, costs.some((cost) => cost > 0) ? costs : costs.map(() => 1));
  const shares = lots.map((lot, i) => {
    const share = parts[i] ?? 0;
    return { lotId: lot.id, materialId: lot.materialId, amountMinor: share, usedMinor: addedToDrawnMinor(lot, share) };
  });

  const id = newId();
  await tx.carriageBill.create({ data: { id, consignmentId, amountMinor, note, createdAt: now } });
  await tx.carriageShare.createMany({
    data: shares.map(({ lotId, amountMinor }) => ({ billId: id, lotId, amountMinor })),
  });
  const moves = shares.flatMap(({ lotId, materialId, amountMinor, usedMinor }) =>
    [amountMinor, -usedMinor]
      .filter((costMinor) => costMinor !== 0)
      .map((costMinor) => ({
        id: newId(),
        lotId,
        materialId,
        kind: 'carriage' as const,
        quantity: 0,
        costMinor,
        at: now,
        note,
      })),
  );
  await tx.stockMove.createMany({ data: moves });
  return { id, consignmentId, amountMinor, note, shares };
}
