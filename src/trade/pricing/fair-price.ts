import { Decimal } from '../money/money.js';
import { type PriceTerms, settled, type Turnout } from './price-terms.js';

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
 * @param wagePerHourMinor what the owner's hour is paid; 0 asks at which price the costs alone are covered
 * @returns exact minor units
 */
export function priceForSurplus(
  terms: PriceTerms,
  targetMinor: number,
  wagePerHourMinor = terms.wagePerHourMinor,
): Decimal {
  let spent = terms.sunkIfCancelledMinor.times(terms.probabilityCancelled).plus(targetMinor);
  let payers = new Decimal(0);
  const { keptPart, keptPlusMinor } = terms.takings;
  for (const { held, students, probability, costMinor, ownerHours } of terms.turnouts) {
    if (!held) continue;
    spent = spent.plus(ownerHours.times(wagePerHourMinor).plus(costMinor).times(probability));
    payers = payers.plus(probability.times(students));
  }
  return spent.minus(payers.times(keptPlusMinor)).div(payers.times(keptPart));
}

/**
 * The full gross price, VAT and card fees in it, at which a course with so many students pays all its costs and the owner so much
 * an hour.
 *
 * @returns exact minor units
 */
export function priceForTurnout({ takings }: PriceTerms, turnout: Turnout, perHourMinor: number): Decimal {
  const { students, costMinor, ownerHours } = turnout;
  return ownerHours
    .times(perHourMinor)
    .plus(costMinor)
    .minus(takings.keptPlusMinor.times(students))
    .div(takings.keptPart.times(students));
}

/**
 * The least gross price at which the course takes place and pays the owner less than the pay floor with a probability
 * of at most `poorAtMost`. Each number of students has a price from which on it pays enough; the dearest of them are
 * let go while their probabilities fit into what is acceptable, and the next one sets the price.
 *
 * @returns exact minor units; 0 where the probability is acceptable at any price
 */
function priceForRisk(terms: PriceTerms): Decimal {
  const needs = terms.turnouts
    .filter(({ held, students }) => held && students > 0) // with nobody there no price helps
    .map((turnout) => ({
      priceMinor: priceForTurnout(terms, turnout, terms.payFloorPerHourMinor),
      probability: turnout.probability,
    }))
    .sort((a, b) => b.priceMinor.comparedTo(a.priceMinor));

  let poor = new Decimal(0);
  for (const { priceMinor, probability } of needs) {
    poor = poor.plus(probability);
    if (settled(poor).gt(terms.poorAtMost)) return priceMinor;
  }
  return new Decimal(0);
}
