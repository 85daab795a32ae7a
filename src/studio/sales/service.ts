import type { Transaction } from '../../database/transaction.js';
import { newId } from '../../http/ids.js';
import { MINOR_MAX } from '../../http/types.js';
import { Problem } from '../../problems.js';
import { groupBy } from '../../trade/maths/group-by.js';
import { quantityInWords, saleMinor } from '../../trade/money/sale-units.js';
import { fifoDraw, type StockLot } from '../../trade/stock/fifo.js';
import { createCharge, creditPart } from '../accounts/charges/charges.js';
import { drawMaterial, getMaterial } from '../materials/service.js';
import { getStudioDay, lockMaterialStock, returnToStock } from '../materials/stock-moves.js';
import { includeClay } from '../memberships/use/clay.js';
import { getPerson } from '../people/service.js';
import { getStudio } from '../settings/service.js';
import type { NewSale, NewTakingBack, Sale, Sold } from './contract.js';
import { salePriceMinor } from './prices.js';
import { getSale } from './to-api.js';

/**
 * Somebody takes material home: it leaves the oldest lots, and they owe its price from today. What the books don't hold is taken as
 * found, as in any draw.
 */
export async function recordSale(tx: Transaction, now: Date, wanted: NewSale): Promise<Sold> {
  const { personId, materialId, quantity, note } = wanted;
  await getPerson(tx, personId);
  const { name, unit } = await getMaterial(tx, materialId);
  const { priceMinor, taxRateId } = await salePriceMinor(tx, wanted);
  const grossMinor = priced(quantity, unit, priceMinor);
  const { moveIds, costMinor: _, ...stock } = await drawMaterial(tx, now, { materialId, quantity, note, kind: 'sold' });
  const { locale } = await getStudio(tx);
  const chargeId = await createCharge(tx, now, {
    ...{ personId, kind: 'material', grossMinor, taxRateId, inAdvance: false },
    description: `${name}, ${quantityInWords(quantity, unit, locale)}`,
    quantity: countOf(quantity, unit),
    instalments: [{ dueOn: await getStudioDay(tx, now), amountMinor: grossMinor }],
  });
  const id = newId();
  await tx.sale.create({ data: { id, chargeId, materialId, quantity, priceMinor, note, at: now } });
  await tx.saleMove.createMany({ data: moveIds.map((moveId) => ({ moveId, saleId: id })) });
  if (unit === 'g') await includeClay(tx, now, { saleId: id, chargeId, personId, materialId, quantity, priceMinor });
  return { ...(await getSale(tx, id)), ...stock };
}

/** How many a paper counts: pieces one by one, what is weighed or measured as one. */
const countOf = (quantity: number, unit: Sale['unit']) => (unit === 'piece' ? quantity : 1);

function priced(quantity: number, unit: Sale['unit'], priceMinor: number): number {
  const grossMinor = saleMinor(quantity, unit, priceMinor);
  if (grossMinor >= 1 && grossMinor <= MINOR_MAX) return grossMinor;
  const detail =
    grossMinor < 1 ? 'costs nothing once it is rounded: sell more at once' : 'costs more than can be entered';
  throw new Problem('invalid-request', `That quantity ${detail}, or look at the price again.`, {
    errors: [{ pointer: '#/quantity', detail }],
  });
}

/**
 * All or a part of a sale comes back: into the lots that it was of, the last drawn first, at the cost at which it went. What is kept
 * costs its quantity at the price of the sale, rounded once; what was asked for beyond that is credited, or paid back.
 */
export async function recordReturn(tx: Transaction, now: Date, id: string, wanted: NewTakingBack): Promise<Sale> {
  const { materialId } = await getSale(tx, id);
  await lockMaterialStock(tx, materialId);
  // only now: of two who bring it back at once, the second waited for the lock
  const { chargeId, unit, priceMinor, keptQuantity, includedQuantity } = await getSale(tx, id);
  const { reason, method, quantity = keptQuantity } = wanted;
  if (quantity > keptQuantity || quantity === 0)
    throw new Problem(
      'more-than-sold',
      keptQuantity === 0
        ? 'All of it has already come back. Look the sale up again.'
        : `Only ${keptQuantity} of what was sold is still with them. Take back at most that.`,
      { keptQuantity },
    );
  // what a membership includes comes back last: it was asked for by nobody
  const asked = (kept: number) => saleMinor(Math.max(0, kept - includedQuantity), unit, priceMinor);
  const amountMinor = asked(keptQuantity) - asked(keptQuantity - quantity);
  const credited = { amountMinor, quantity: countOf(quantity, unit), method, reason };
  const creditId = await creditPart(tx, now, chargeId, credited);
  const takingBackId = newId();
  await tx.takingBack.create({ data: { id: takingBackId, saleId: id, quantity, creditId, reason, at: now } });
  const { draws } = fifoDraw(await wentFrom(tx, id), quantity);
  const moveIds = await returnToStock(tx, now, { materialId, parts: draws, note: reason });
  await tx.saleMove.createMany({ data: moveIds.map((moveId) => ({ moveId, saleId: id, takingBackId })) });
  return getSale(tx, id);
}

/** What a sale took of each lot and what of that came back, the last drawn first: as lots from which its return is drawn. */
async function wentFrom(tx: Transaction, saleId: string): Promise<StockLot[]> {
  const rows = await tx.saleMove.findMany({ where: { saleId }, include: { move: true }, orderBy: { moveId: 'desc' } });
  const byLot = groupBy(rows, ({ move }) => move.lotId);
  return [...byLot].map(([id, own]) => {
    const went = own.filter(({ takingBackId }) => takingBackId === null).map(({ move }) => move);
    const back = own.filter(({ takingBackId }) => takingBackId !== null).map(({ move }) => move);
    const sum = (moves: typeof went, what: 'quantity' | 'costMinor') =>
      moves.reduce((all, move) => all + move[what], 0);
    return {
      id,
      quantity: -sum(went, 'quantity'),
      costMinor: 0 - sum(went, 'costMinor'),
      drawn: sum(back, 'quantity'),
    };
  });
}
