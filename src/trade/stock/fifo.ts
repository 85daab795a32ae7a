import { wholeIn } from '../maths/number.js';
import { Decimal, roundHalfUp } from '../money/money.js';

/**
 * A delivery or batch: quantity and drawn in whole base units (g, ml, piece), costMinor for all of it. leftWorthMinor is what the books
 * say is left: after something was put back at the very cost of its draw it can differ by the rounding from what running sums say.
 */
export type StockLot = { id: string; quantity: number; drawn: number; costMinor: number; leftWorthMinor?: number };
export type LotDraw = { lotId: string; quantity: number; costMinor: number };

/** What the first so-many units of a lot cost. By running sums, a lot's draws add up to its cost whatever their sizes. */
function costUpTo(lot: StockLot, units: number): number {
  if (units === 0) return 0;
  return roundHalfUp(new Decimal(lot.costMinor).times(units).div(lot.quantity));
}

function checkLot(lot: StockLot): StockLot {
  wholeIn(lot.quantity, 'The quantity of a lot', 0, Number.MAX_SAFE_INTEGER);
  wholeIn(lot.drawn, 'What was used from a lot', 0, lot.quantity);
  wholeIn(lot.costMinor, 'The cost of a lot in minor units', 0, Number.MAX_SAFE_INTEGER);
  wholeIn(lot.leftWorthMinor ?? 0, 'What is left of a lot is worth', 0, lot.costMinor);
  return lot;
}

/** What is left in a lot is worth: its cost less what its draws have cost. */
export function remainingValueMinor(lot: StockLot): number {
  const { drawn, costMinor, leftWorthMinor } = checkLot(lot);
  return leftWorthMinor ?? costMinor - costUpTo(lot, drawn);
}

/**
 * Of a cost that comes on a lot after a part of it was drawn (its carriage, when that bill comes): what falls on the part that was
 * drawn. The rest goes with what is left, so that the lot's whole cost is still used exactly once.
 */
export function addedToDrawnMinor(lot: StockLot, addedMinor: number): number {
  const { costMinor, drawn } = checkLot(lot);
  wholeIn(addedMinor, 'The cost that is added in minor units', 0, Number.MAX_SAFE_INTEGER);
  return costUpTo({ ...lot, costMinor: costMinor + addedMinor }, drawn) - costUpTo(lot, drawn);
}

/**
 * Draws from lots first in, first out.
 *
 * @param lots     oldest first
 * @param quantity whole base units
 * @returns a draw for each lot touched; shortBy is what the books don't hold, and asks for a count
 * @throws RangeError on quantities that are not whole, or a lot drawn beyond itself
 */
export function fifoDraw(lots: readonly StockLot[], quantity: number): { draws: LotDraw[]; shortBy: number } {
  let wanted = wholeIn(quantity, 'The quantity to draw', 0, Number.MAX_SAFE_INTEGER);
  const draws: LotDraw[] = [];
  for (const lot of lots) {
    const taken = Math.min(wanted, checkLot(lot).quantity - lot.drawn);
    if (taken === 0) continue;
    const usedMinor = lot.costMinor - remainingValueMinor(lot);
    // where more was used than the running sum says, this draw makes up for it; a draw that earns would be a strange one
    const costMinor = Math.max(0, costUpTo(lot, lot.drawn + taken) - usedMinor);
    draws.push({ lotId: lot.id, quantity: taken, costMinor });
    wanted -= taken;
  }
  return { draws, shortBy: wanted };
}

/**
 * What comes back of what was drawn, at the mean cost of what has not come back yet: parts that come back one by one never come to more
 * than was drawn, and all of them together to exactly that.
 *
 * @param out  whole base units that were drawn and have not come back, and what they cost in minor units
 * @param back whole base units, at most those
 * @returns whole minor units
 */
export function worthOfBackMinor(out: { quantity: number; costMinor: number }, back: number): number {
  wholeIn(out.costMinor, 'What was used cost in minor units', 0, Number.MAX_SAFE_INTEGER);
  wholeIn(out.quantity, 'What was used', 1, Number.MAX_SAFE_INTEGER);
  wholeIn(back, 'What comes back', 0, out.quantity);
  return roundHalfUp(new Decimal(out.costMinor).times(back).div(out.quantity));
}
