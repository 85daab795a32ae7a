import { Decimal } from './money.js';
import { type PriceTerms, settled } from './price-terms.js';

/**
 * The gross price at which the expected result, over courses held and cancelled, equals `targetMinor`. The result is
 * linear in the price, so this is exact: (target + what is spent on average) / (what is taken on average per unit).
 *
 * @returns exact minor units
 */
export function priceForSurplus(terms: PriceTerms, targetMinor: number): Decimal {
  let spent = terms.sunkIfCancelledMinor.times(terms.probabilityCancelled).plus(targetMinor);
  let payers = new Decimal(0);
  for (const { held, students, probability, costMinor, ownerHours } of terms.turnouts) {
    if (!held) continue;
    spent = spent.plus(ownerHours.times(terms.wagePerHourMinor).plus(costMinor).times(probability));
    payers = payers.plus(probability.times(students));
  }
  return spent.div(payers.times(terms.keptPart));
}

/**
 * The least gross price at which the course takes place and pays the owner less than the pay floor with a probability
 * of at most `poorAtMost`. Each number of students has a price from which on it pays enough; the dearest of them are
 * let go while their probabilities fit into what is acceptable, and the next one sets the price.
 *
 * @returns exact minor units; 0 where the probability is acceptable at any price
 */
export function priceForRisk(terms: PriceTerms): Decimal {
  const needs = terms.turnouts
    .filter(({ held }) => held)
    .map(({ students, probability, costMinor, ownerHours }) => ({
      priceMinor: ownerHours.times(terms.payFloorPerHourMinor).plus(costMinor).div(terms.keptPart.times(students)),
      probability,
    }))
    .sort((a, b) => b.priceMinor.comparedTo(a.priceMinor));

  let poor = new Decimal(0);
  for (const { priceMinor, probability } of needs) {
    poor = poor.plus(probability);
    if (settled(poor).gt(terms.poorAtMost)) return priceMinor;
  }
  return new Decimal(0);
}
