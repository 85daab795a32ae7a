import type { Transaction } from '../../database/transaction.js';
import { fromDate } from '../../database/values.js';
import { newId } from '../../http/ids.js';
import { Problem } from '../../problems.js';
import { findLot } from '../materials/queries.js';
import { addLot, lockMaterialStock } from '../materials/stock-moves.js';
import { getBatch } from './batches.js';
import type { MixBatch } from './contract.js';

/**
 * Takes a batch back that was entered by mistake. Its lot leaves the shelf; what it had drawn comes back as new lots at what those draws
 * had cost, since a lot that others have drawn from since can't take anything back without changing what those draws cost.
 */
export async function undoBatch(tx: Transaction, now: Date, id: string, note: string): Promise<MixBatch> {
  const { materialId, lotId, parts, number, name, unit } = await getBatch(tx, id);
  for (const one of [materialId, ...parts.map((part) => part.materialId)].sort()) await lockMaterialStock(tx, one);
  // only now: of two who take it back at once, the second waited for the lock
  if ((await tx.mixUndoing.count({ where: { batchId: id } })) > 0)
    throw new Problem('already-cancelled', `Batch ${number} has already been undone. Look it up again.`);
  const lot = await findLot(tx, materialId, lotId);
  if (lot?.drawn !== 0)
    throw new Problem(
      'stock-impossible',
      `${lot?.drawn} ${unit} of batch ${number} is used, so the batch can’t be undone. Count ${name} and its materials instead.`,
    );
  const why = `Batch ${number} of ${name} undone: ${note}`;
  await tx.stockMove.create({
    data: {
      ...{ id: newId(), materialId, lotId, kind: 'unmixed', at: now, note: why },
      ...{ quantity: -lot.quantity, costMinor: 0 - lot.leftWorthMinor }, // never -0
    },
  });
  const draws = await tx.mixDraw.findMany({
    where: { batchId: id },
    include: { move: { include: { lot: true } } },
    orderBy: { moveId: 'asc' },
  });
  for (const { move } of draws)
    await addLot(tx, now, {
      ...{ materialId: move.materialId, supplier: null, receivedOn: fromDate(move.lot.receivedOn) },
      ...{ quantity: -move.quantity, costMinor: 0 - move.costMinor, kind: 'unmixed', note: why, stocktakeId: null },
    });
  await tx.mixUndoing.create({ data: { batchId: id, note, at: now } });
  return getBatch(tx, id);
}
