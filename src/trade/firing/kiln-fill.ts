import { Decimal, decimalIn } from '../maths/number.js';
import { bandOf, posteriorOfMean } from '../maths/posterior.js';

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
  /** the true mean lies between them with a chance of 8 in 10; null where no firing is known */
  lowPercent: string | null;
  highPercent: string | null;
}

/** How far single loads are thought to lie from their mean before that is known, as a part of it: our own assumption. */
const SPREAD = '0.1';
const TAIL = 0.9;
const DECIMALS = 3;

/**
 * Learns how full a kiln usually is. The plain mean is the right one to share costs by: what pieces pay for the part that they take of
 * the mean load adds up, over all firings, to what the firings cost. Its band is that of trade/maths/posterior.ts about the loads' own mean,
 * so that loads which happen to be alike make nobody certain.
 *
 * @param assumedPercent decimal string, above 0 and up to 100: what the owner typed
 * @param firedPercents  of each past firing, likewise; above 100, where boxes overlap, counts as 100
 * @throws RangeError on anything else
 */
export function usualFill(assumedPercent: string, firedPercents: readonly string[]): UsualFill {
  const assumed = decimalIn(assumedPercent, 'The assumed fill in percent', 0, 100).toFixed();
  const values = firedPercents.map((percent) => Decimal.min(decimalIn(percent, 'A fill in percent', 0, 100_000), 100));
  const firings = values.length;
  if (firings === 0)
    return {
      ...{ percent: assumed, isLearnt: false, firings, assumedPercent: assumed },
      ...{ meanPercent: null, lowPercent: null, highPercent: null },
    };
  const mean = values.reduce((sum, value) => sum.plus(value), new Decimal(0)).div(firings);
  const [low, high] = bandOf(posteriorOfMean({ mean, spread: mean.times(SPREAD) }, values), TAIL);
  const isLearnt = firings >= FIRINGS_ENOUGH && mean.gt(0);
  return {
    ...{ percent: isLearnt ? asText(mean) : assumed, isLearnt, firings, assumedPercent: assumed },
    ...{ meanPercent: asText(mean), lowPercent: asText(Decimal.max(low, 0)) },
    highPercent: asText(Decimal.min(high, 100)),
  };
}

const asText = (percent: Decimal): string => percent.toDecimalPlaces(DECIMALS).toFixed();
