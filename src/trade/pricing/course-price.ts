import { decimalIn } from '../maths/number.js';
import { MAX_MINOR } from '../money/money-limits.js';
import { expectedCount } from './enrolment.js';
import { fairPrice, priceForSurplus } from './fair-price.js';
import type { CostLine, PriceInputs } from './price-inputs.js';
import { asText, readTerms } from './price-terms.js';
import { type ProfitTable, profitTableOf } from './profit-table.js';

export { type CeilingChange, cheapestChanges } from './cheapest-changes.js';
export type { CostLine, CostSource, PriceInputs } from './price-inputs.js';
export type { ProfitTable } from './profit-table.js';
export { type Sensitivity, sensitivities } from './sensitivities.js';

/** What a course should cost, and why. Strings are decimals; money is exact, in minor units, unless it is a number. */
export interface PriceResult extends ProfitTable {
  lines: (CostLine & { amountMinor: string })[];
  perStudentMinor: string;
  fixedMinor: string;
  sunkIfCancelledMinor: string;
  /** of 0..places bookings */
  enrolmentProbabilities: string[];
  expectedBooked: string;
  probabilityCancelled: string;
  /** the gross price at which all costs are covered on average, with the owner's time unpaid */
  costFloorMinor: string;
  /** ... at which the owner's wage is paid too: the expected result is zero */
  floorMinor: string;
  /** ... at which it is the surplus aimed at */
  surplusPriceMinor: string;
  /** the least gross price at which a poorly paid course is as improbable as the owner wishes */
  riskPriceMinor: string;
  /** the larger of the two, rounded up to the studio's step: whole minor units */
  fairPriceMinor: number;
  /** which of the two it was */
  binding: 'surplus' | 'risk';
}

/**
 * The fair price of a course, which is its full price: concessions and the like follow from it. With n students at the gross price P it leaves
 *
 *     R(n, P) = n (P 100 / (100 + vat) - card% P - payments cardFixed - perStudent) - fixed
 *               - [n > above] secondTutor - wage (hours + n hoursPerStudent)
 *
 * and below the minimum it isn't held and loses what is sunk. The enrolment does not depend on P: a price far from the
 * studio's usual ones is outside what its past courses can tell, and whoever shows the price should say so.
 *
 * @returns all of it as JSON; the ladder and the expectations are those at the fair price
 * @throws RangeError with a sentence that says what to mend
 */
export function coursePrice(inputs: PriceInputs): PriceResult {
  const terms = readTerms(inputs);
  const { surplusMinor, riskMinor, fairMinor } = fairPrice(terms);
  if (fairMinor.gt(MAX_MINOR)) {
    throw new RangeError(
      'No sensible price would pay for this course. Check its costs, the percentages that go to others, and its minimum ' +
        'against the enrolment expected: it may hardly ever run.',
    );
  }
  return {
    lines: terms.lines.map(({ line, amountMinor }) => ({ ...line, amountMinor: asText(amountMinor) })),
    perStudentMinor: asText(terms.perStudentMinor),
    fixedMinor: asText(terms.fixedMinor),
    sunkIfCancelledMinor: asText(terms.sunkIfCancelledMinor),
    enrolmentProbabilities: terms.probabilities.map(asText),
    expectedBooked: asText(expectedCount(terms.probabilities)),
    probabilityCancelled: asText(terms.probabilityCancelled),
    costFloorMinor: asText(priceForSurplus(terms, 0, 0)),
    floorMinor: asText(priceForSurplus(terms, 0)),
    surplusPriceMinor: asText(surplusMinor),
    riskPriceMinor: asText(riskMinor),
    fairPriceMinor: fairMinor.toNumber(),
    binding: surplusMinor.gte(riskMinor) ? 'surplus' : 'risk',
    ...profitTableOf(terms, fairMinor),
  };
}

/**
 * The same ladder and expectations at any gross price, for "what if".
 *
 * @param grossMinor decimal string, minor units, 0 or more
 * @throws RangeError with a sentence that says what to mend
 */
export function profitTableAt(inputs: PriceInputs, grossMinor: string): ProfitTable {
  return profitTableOf(readTerms(inputs), decimalIn(grossMinor, 'The price, in minor units,', 0, MAX_MINOR));
}
