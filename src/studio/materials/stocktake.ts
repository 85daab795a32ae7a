import type { Transaction } from '../../database/transaction.js';
import { newId } from '../../http/ids.js';
import { Problem } from '../../problems.js';
import type { Count, NewCount } from './contract.js';
import { listHoldings } from './queries.js';
import { addFoundStock, lockMaterialStock, takeFromStock } from './stock-moves.js';

/**
 * Enters what was counted of a material. The difference to the books becomes a move with its explanation: what is missing leaves the
 * oldest lots, what was found becomes a lot without cost. Also a count that agrees is kept, since it answers "please count".
 */
export async function recordCount(
  tx: Transaction,
  now: Date,
  wanted: NewCount & { materialId: string },
): Promise<Count> {
  const { materialId, counted, explanation } = wanted;
  await lockMaterialStock(tx, materialId);
  const inBooks = (await listHoldings(tx, [materialId])).get(materialId)?.onHand ?? 0;
  const difference = counted - inBooks;
  if (difference !== 0 && explanation === null)
    throw new Problem(
      'invalid-request',
      `Recorded stock is ${inBooks}, you counted ${counted}. Please count again; if it is the same, say in explanation what might explain it.`,
      { errors: [{ pointer: '#/explanation', detail: 'is needed where the count differs from recorded stock' }] },
    );

  const id = newId();
  await tx.stocktake.create({ data: { id, materialId, at: now, counted, inBooks, explanation } });
  const move = { materialId, quantity: Math.abs(difference), note: explanation ?? '', stocktakeId: id };
  if (difference < 0) await takeFromStock(tx, now, { ...move, kind: 'missing' });
  if (difference > 0) await addFoundStock(tx, now, move);
  return { id, at: now.toISOString(), counted, inBooks, explanation };
}
