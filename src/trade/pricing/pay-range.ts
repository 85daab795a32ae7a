import { Decimal } from '../money/money.js';
import { asText, settled } from './price-terms.js';

/** The owner's pay per hour over courses that are held. Exact decimal strings, in minor units. */
export interface PayRange {
  /** the mean over those courses, each counted alike however many hours it takes */
  meanMinor: string;
  /** the 10 % quantile: one course in ten pays this or less */
  lowMinor: string;
  /** the 90 % quantile: nine in ten pay this or less */
  highMinor: string;
}

/**
 * Mean and 10 to 90 % range of a discrete distribution. A quantile is the least value that is not exceeded with at
 * least that probability (the inverse of the distribution function, so always one that can happen; type 1 of Hyndman
 * and Fan, "Sample quantiles in statistical packages", 1996). Sorted by pay, since a second tutor can make the larger
 * course the worse paid.
 *
 * @param courses one for each number of students with which it is held, at least one; probabilities need not add up to 1
 */
export function payRange(courses: readonly { probability: Decimal; perHourMinor: Decimal }[]): PayRange {
  const sorted = [...courses].sort((a, b) => a.perHourMinor.comparedTo(b.perHourMinor));
  const held = sorted.reduce((sum, { probability }) => sum.plus(probability), new Decimal(0));
  const weighed = sorted.reduce((sum, c) => sum.plus(c.perHourMinor.times(c.probability)), new Decimal(0));
  const quantile = (part: string) => {
    let below = new Decimal(0);
    const found = sorted.find(({ probability }) => {
      below = below.plus(probability);
      return settled(below.div(held)).gte(part);
    });
    return asText((found ?? sorted.at(-1))?.perHourMinor ?? new Decimal(0));
  };
  return { meanMinor: asText(weighed.div(held)), lowMinor: quantile('0.1'), highMinor: quantile('0.9') };
}
