import type { Transaction } from '../../database/transaction.js';
import { newId } from '../../http/ids.js';
import { Problem, see } from '../../problems.js';
import { fifoDraw } from '../../trade/stock/fifo.js';
import type { NewReclaim, NewReturn, Returned } from './consignment-contract.js';
import type { CostedLot } from './contract.js';
import { findLot } from './queries.js';
import { getMaterial } from './service.js';
import { addLot, getStudioDay, lockMaterialStock } from './stock-moves.js';

/** Sends a part of a lot back to its supplier, at its cost; the credit may be another sum. */
export async function returnLot(
  tx: Transaction,
  now: Date,
  { materialId, lotId, quantity, creditMinor, note }: NewReturn & { materialId: string },
): Promise<Returned> {
  await lockMaterialStock(tx, materialId);
  const lot = await findLot(tx, materialId, lotId);
  if (!lot)
    throw new Problem(
      'not-found',
      'This material has no such lot. Its lots are shown with it on the page Shelf.',
      see('shelf', `/api/materials/${materialId}`),
    );
  if (lot.supplier === null)
    throw new Problem('stock-impossible', 'This lot has no supplier to return it to. Enter it as wasted.');
  const { draws, shortBy } = fifoDraw([lot], quantity);
  const [gone] = draws;
  if (shortBy > 0 || !gone)
    throw new Problem(
      'stock-impossible',
      `Only ${lot.quantity - lot.drawn} of the lot is left, less than ${quantity}. Return less, or count it.`,
    );
  const moveId = newId();
  const costMinor = 0 - gone.costMinor; // never -0
  await tx.stockMove.create({
    data: { id: moveId, materialId, lotId, kind: 'returned', quantity: -quantity, costMinor, at: now, note },
  });
  await tx.supplierCredit.create({ data: { moveId, amountMinor: creditMinor } });
  return { moveId, lotId, quantity, costMinor: gone.costMinor, creditMinor, left: lot.quantity - lot.drawn - quantity };
}

/** Puts clay that came back, and was worked up again, on the shelf as a lot of its own at what that cost. */
export async function recordReclaim(
  tx: Transaction,
  now: Date,
  { materialId, quantity, costMinor, note }: NewReclaim & { materialId: string },
): Promise<CostedLot> {
  await lockMaterialStock(tx, materialId);
  const { kind, name } = await getMaterial(tx, materialId);
  if (kind !== 'clay' && kind !== 'slip' && kind !== 'glaze')
    throw new Problem(
      'invalid-request',
      `${name} can't be reclaimed: only clay, slip and glaze can. Count it instead.`,
    );
  const receivedOn = await getStudioDay(tx, now);
  const held = { materialId, supplier: null, receivedOn, quantity, costMinor };
  const id = await addLot(tx, now, { ...held, kind: 'reclaimed', note, stocktakeId: null });
  return { id, supplier: null, receivedOn, quantity, left: quantity, costMinor, leftWorthMinor: costMinor };
}
