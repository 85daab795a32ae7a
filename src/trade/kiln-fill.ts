import { learntMean } from './learnt.js';
import { Decimal, decimalIn } from './number.js';

/** A kiln's usual fill is an assumption until so many firings of that kind are known: fewer say little about the next. */
export const FIRINGS_ENOUGH = 5;

/** How full a kiln usually is in one kind of firing. Decimal strings, in percent of the chamber. */
export interface UsualFill {
  /** what to go by: the mean of the firings, or the assumption while they are too few */
  percent: string;
  isLearnt: boolean;
  firings: number;
  assumedPercent: string;
  meanPercent: string | null;
  /** the true mean lies between them with a chance of 8 in 10; null where one firing or none is known */
  lowPercent: string | null;
  highPercent: string | null;
}

/**
 * Learns how full a kiln usually is. The plain mean is the right one to share costs by: what pieces pay for the part that they take of
 * the mean load adds up, over all firings, to what the firings cost.
 *
 * @param assumedPercent  decimal string, above 0 and up to 100: what the owner typed
 * @param firedPercents   of each past firing; above 100, where boxes overlap, counts as 100
 * @throws RangeError on anything else
 */
export function usualFill(assumedPercent: string, firedPercents: readonly string[]): UsualFill {
  const assumed = decimalIn(assumedPercent, 'The assumed fill in percent', 0, 100);
  const capped = firedPercents.map((percent) => Decimal.min(new Decimal(percent), 100).toFixed());
  const { mean, low, high } = learntMean(assumed.toFixed(), capped);
  const isLearnt = mean !== null && capped.length >= FIRINGS_ENOUGH;
  return {
    ...{ percent: isLearnt ? mean : assumed.toFixed(), isLearnt, firings: capped.length },
    ...{ assumedPercent: assumed.toFixed(), meanPercent: mean, lowPercent: low },
    highPercent: high === null ? null : Decimal.min(high, 100).toFixed(),
  };
}
