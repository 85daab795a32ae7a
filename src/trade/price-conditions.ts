import { Decimal } from './money.js';
import { type PriceTerms, settled } from './price-terms.js';

/** What a course must cost, in exact minor units; the fair price at the studio's step. */
export interface FairPrice {
  surplusMinor: Decimal;
  riskMinor: Decimal;
  fairMinor: Decimal;
}

/** The larger of what surplus and risk ask for, rounded up to the step. */
export function fairPrice(terms: PriceTerms): FairPrice {
  const surplusMinor = priceForSurplus(terms, terms.targetSurplusMinor);
  const riskMinor = priceForRisk(terms);
  const enough = settled(Decimal.max(surplusMinor, riskMinor));
  return { surplusMinor, riskMinor, fairMinor: enough.div(terms.priceStepMinor).ceil().times(terms.priceStepMinor) };
}

/**
 * The gross price at which the expected result, over courses held and cancelled, equals `targetMinor`. The result is
 * linear in the price, so this is exact: (target + what is spent on average) / (what is taken on average per unit).
 *
 * @returns exact minor units
 */
export function priceForSurplus(terms: PriceTerms, targetMinor: number): Decimal {
  let spent = terms.sunkIfCancelledMinor.times(terms.probabilityCancelled).plus(targetMinor);
  let payers = new Decimal(0);
  const { keptPart, keptPlusMinor } = terms.takings;
  for (const { held, students, probability, costMinor, ownerHours } of terms.turnouts) {
    if (!held) continue;
    spent = spent.plus(ownerHours.times(terms.wagePerHourMinor).plus(costMinor).times(probability));
    payers = payers.plus(probability.times(students));
  }
  return spent.minus(payers.times(keptPlusMinor)).div(payers.times(keptPart));
}

/**
 * The least gross price at which the course takes place and pays the owner less than the pay floor with a probability
 * of at most `poorAtMost`. Each number of students has a price from which on it pays enough; the dearest of them are
 * let go while their probabilities fit into what is acceptable, and the next one sets the price.
 *
 * @returns exact minor units; 0 where the probability is acceptable at any price
 */
function priceForRisk(terms: PriceTerms): Decimal {
  const { keptPart, keptPlusMinor } = terms.takings;
  const needs = terms.turnouts
    .filter(({ held, students }) => held && students > 0) // with nobody there no price helps
    .map(({ students, probability, costMinor, ownerHours }) => ({
      priceMinor: ownerHours
        .times(terms.payFloorPerHourMinor)
        .plus(costMinor)
        .minus(keptPlusMinor.times(students))
        .div(keptPart.times(students)),
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
