import { decimalIn, wholeIn } from '../maths/number.js';
import { Decimal, roundHalfUp } from '../money/money.js';

/**
 * Total linear shrinkage from its two steps: Sd + Sf - Sd Sf / 100. They don't just add, since firing shrinks what
 * drying has left (6.25 % and 6.66 % make 12.49 %, not 12.91 %; a test laboratory's published note).
 *
 * @param dryingPercent of the wet length
 * @param firingPercent of the dry length
 * @returns percent of the wet length, exact
 */
export function totalShrinkagePercent(dryingPercent: string, firingPercent: string): string {
  const drying = decimalIn(dryingPercent, 'Drying shrinkage in percent', 0, 50);
  const firing = decimalIn(firingPercent, 'Firing shrinkage in percent', 0, 50);
  return drying.plus(firing).minus(drying.times(firing).div(100)).toString();
}

/**
 * The length before it shrank: after / (1 - shrinkage), which is more than after * (1 + shrinkage). Of the total it is the length to
 * make in wet clay for a fired one, of the firing shrinkage the dry one.
 */
export function lengthBeforeMm(afterMm: number, shrinkagePercent: string): number {
  const shrinkage = decimalIn(shrinkagePercent, 'Shrinkage in percent', 0, 75);
  const left = new Decimal(1).minus(shrinkage.div(100));
  return decimalIn(afterMm, 'The length in mm', 0, 2000).div(left).toNumber();
}

/**
 * What a wet piece weighs once it is fired: wet * (1 - water) * (1 - loss on ignition).
 *
 * @param waterPercent of the damp weight, about 20 for plastic clay (which is 25 of the dry: mind the basis)
 * @param lossOnIgnitionPercent of the dry weight
 */
export function firedMassGrams(wetMassGrams: number, waterPercent: string, lossOnIgnitionPercent: string): number {
  const water = decimalIn(waterPercent, 'Water in percent of the damp weight', 0, 60);
  const loss = decimalIn(lossOnIgnitionPercent, 'Loss on ignition in percent', 0, 50);
  return decimalIn(wetMassGrams, 'The wet mass in grams', 0, 1_000_000)
    .times(new Decimal(100).minus(water))
    .times(new Decimal(100).minus(loss))
    .div(10_000)
    .toNumber();
}

/** What a course draws, from the pieces planned and two rates that the studio learns from its weigh-outs. */
export type ClayDraw = {
  pieces: number;
  wetMassGrams: number;
  /** trimmed and cut away, in percent of the piece */
  offcutsPercent: string;
  /** made again, in percent of the pieces */
  remakesPercent: string;
};

/**
 * Clay weighed out for a course: pieces * wet mass * (1 + offcuts) * (1 + remakes). What comes back of it as reclaim comes back later:
 * on the day all of it must be there.
 *
 * @returns whole grams
 */
export function clayDrawnGrams(draw: ClayDraw): number {
  const part = (percent: string, what: string, most: number) => decimalIn(percent, what, 0, most).div(100);
  return roundHalfUp(
    new Decimal(wholeIn(draw.pieces, 'The number of pieces', 0, 100_000))
      .times(decimalIn(draw.wetMassGrams, 'The wet mass of a piece in grams', 0, 1_000_000))
      .times(part(draw.offcutsPercent, 'Offcuts in percent', 500).plus(1))
      .times(part(draw.remakesPercent, 'Remakes in percent', 500).plus(1)),
  );
}

/**
 * What of the clay drawn comes back as usable reclaim, and so need not be bought.
 *
 * @param drawnGrams       decimal string or number, at least 0
 * @param reclaimedPercent of what is drawn, 0..100
 * @returns whole grams
 */
export function clayReclaimedGrams(drawnGrams: string | number, reclaimedPercent: string): number {
  const part = decimalIn(reclaimedPercent, 'Reclaim in percent', 0, 100).div(100);
  return roundHalfUp(decimalIn(drawnGrams, 'The clay used in grams', 0, 1_000_000_000).times(part));
}
