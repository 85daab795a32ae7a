import { decimalIn, wholeIn } from '../maths/number.js';
import { Decimal } from '../money/money.js';

/** The largest course that is reckoned with: a studio has few benches, and each place costs a step of arithmetic. */
export const MOST_PLACES = 200;

/**
 * How many of a course's places are taken, as a beta-binomial distribution: each place fills with one unknown
 * probability, itself spread as Beta(alpha, beta). A plain binomial would call a half-empty course far too unlikely.
 *
 * P(k) = C(n, k) B(k + alpha, n - k + beta) / B(alpha, beta), reached without factorials from P(0) by
 * P(k + 1) / P(k) = (n - k) (alpha + k) / ((k + 1) (beta + n - k - 1)).
 *
 * @param places whole, 0..200
 * @param alpha  decimal string above zero; alpha / (alpha + beta) is the expected fill
 * @param beta   decimal string above zero
 * @returns the probabilities of 0..places bookings, good to 35 digits
 * @throws RangeError on arguments outside the above
 */
export function betaBinomial(places: number, alpha: string, beta: string): Decimal[] {
  wholeIn(places, 'Places', 0, MOST_PLACES);
  const a = decimalIn(alpha, 'Alpha of the enrolment', 0.001, 1_000_000);
  const b = decimalIn(beta, 'Beta of the enrolment', 0.001, 1_000_000);

  let probability = new Decimal(1);
  for (let i = 0; i < places; i++) probability = probability.times(b.plus(i)).div(a.plus(b).plus(i));

  const probabilities = [probability];
  for (let k = 0; k < places; k++) {
    const up = a.plus(k).times(places - k);
    const down = b.plus(places - k - 1).times(k + 1);
    probability = probability.times(up).div(down);
    probabilities.push(probability);
  }
  return probabilities;
}

/** The mean of a distribution over 0, 1, 2, ... */
export function expectedCount(probabilities: readonly Decimal[]): Decimal {
  return probabilities.reduce((sum, p, k) => sum.plus(p.times(k)), new Decimal(0));
}

/** The probability of fewer than `least`, for a distribution over 0, 1, 2, ... */
export function probabilityBelow(probabilities: readonly Decimal[], least: number): Decimal {
  return probabilities.slice(0, Math.max(least, 0)).reduce((sum, p) => sum.plus(p), new Decimal(0));
}
