import { Decimal } from '../money/money.js';
import { priceForTurnout } from './fair-price.js';
import { type PayRange, payRange } from './pay-range.js';
import { asText, type PriceTerms, settled, type Turnout } from './price-terms.js';

/** What a course with so many students comes to at a price. Money: exact decimal strings, in minor units. */
export interface ProfitRow {
  students: number;
  probability: string;
  /** false below the minimum: what it would come to if it were held all the same */
  held: boolean;
  /** what is left when all costs and the owner's wage are paid */
  resultMinor: string;
  /** what the owner gets per hour if all that is left is theirs; below zero they pay from their own pocket */
  ownerPayPerHourMinor: string;
  /** all costs with the owner's wage and the card company's percentage, without VAT, by the number of students; null without any */
  costPerStudentMinor: string | null;
  /** the full price, with VAT and card fees in it, at which so many pay for all costs and the owner's wage; null without any */
  breakEvenPriceMinor: string | null;
}

/** A course at one gross price. Probabilities and money: decimal strings; money in minor units. */
export interface ProfitTable {
  /** one rung for each number of students from 1 to places; from 0 where it is held with nobody too */
  ladder: ProfitRow[];
  /** the least number of students who pay for all costs and the owner's wage, whatever the minimum; null where there is none */
  breakEvenStudents: number | null;
  /** ... for the costs alone, with the owner's time unpaid */
  costsCoveredStudents: number | null;
  /** the numbers above breakEvenStudents with which the wage isn't paid in full again, since a second tutor must be */
  negativeAgainAt: number[];
  /** the mean over all enrolments, cancelled courses with what they lose included */
  expectedResultMinor: string;
  /** the same before the owner's time is paid: below zero it costs the owner money */
  expectedBeforeWageMinor: string;
  /** that the course is held, with anybody there, and pays the owner less per hour than the wage (a result below zero) */
  probabilityUnderpaid: string;
  /** ... less per hour than the pay floor */
  probabilityUnderPayFloor: string;
  /** ... less than it costs even with the owner's time unpaid */
  probabilityOutOfPocket: string;
  /** what the owner is paid per hour by a course that is held, if all that is left is theirs */
  payPerHour: PayRange;
}

/** The ladder at a gross price in exact minor units. */
export function profitTableOf(terms: PriceTerms, grossMinor: Decimal): ProfitTable {
  const { paidPart, discountMinor, cardPart, keptPart, keptPlusMinor, leastMinor } = terms.takings;
  if (grossMinor.lt(leastMinor)) {
    throw new RangeError('At this price a discount, or a part with its own VAT, is more than somebody pays. Lower it.');
  }
  const keptEach = keptPart.times(grossMinor).plus(keptPlusMinor);
  const cardEach = paidPart.times(grossMinor).minus(discountMinor).times(cardPart);
  const rungs = terms.turnouts.map((turnout) => {
    const takingsMinor = keptEach.times(turnout.students).minus(turnout.costMinor);
    const resultMinor = leftAfter(takingsMinor, turnout, terms.wagePerHourMinor);
    return { turnout, takingsMinor, perHourMinor: takingsMinor.div(turnout.ownerHours), resultMinor };
  });
  const held = rungs.filter(({ turnout }) => turnout.held);
  const paidLessThan = (perHourMinor: number) =>
    held
      .filter(({ turnout }) => turnout.students > 0)
      .filter(({ turnout, takingsMinor }) => leftAfter(takingsMinor, turnout, perHourMinor).lt(0))
      .reduce((sum, { turnout }) => sum.plus(turnout.probability), new Decimal(0));

  const leastPaying = (perHourMinor: number) =>
    rungs
      .filter(({ turnout }) => turnout.students > 0)
      .find(({ takingsMinor, turnout }) => leftAfter(takingsMinor, turnout, perHourMinor).gte(0))?.turnout.students ??
    null;
  const breakEven = leastPaying(terms.wagePerHourMinor);
  const negativeAgain = rungs.filter(
    ({ turnout, resultMinor }) => breakEven !== null && turnout.students > breakEven && resultMinor.lt(0),
  );
  const expected = (wagePerHourMinor: number) =>
    held.reduce(
      (sum, { turnout, takingsMinor }) =>
        sum.plus(takingsMinor.minus(turnout.ownerHours.times(wagePerHourMinor)).times(turnout.probability)),
      terms.sunkIfCancelledMinor.times(terms.probabilityCancelled).neg(),
    );

  return {
    ladder: rungs.map(({ turnout, perHourMinor, resultMinor }) => ({
      students: turnout.students,
      probability: asText(turnout.probability),
      held: turnout.held,
      resultMinor: asText(resultMinor),
      ownerPayPerHourMinor: asText(perHourMinor),
      costPerStudentMinor: turnout.students === 0 ? null : asText(costPerStudent(terms, turnout).plus(cardEach)),
      breakEvenPriceMinor:
        turnout.students === 0
          ? null
          : asText(Decimal.max(priceForTurnout(terms, turnout, terms.wagePerHourMinor), leastMinor)),
    })),
    breakEvenStudents: breakEven,
    costsCoveredStudents: leastPaying(0),
    negativeAgainAt: negativeAgain.map(({ turnout }) => turnout.students),
    expectedResultMinor: asText(settled(expected(terms.wagePerHourMinor))),
    expectedBeforeWageMinor: asText(settled(expected(0))),
    probabilityUnderpaid: asText(paidLessThan(terms.wagePerHourMinor)),
    probabilityUnderPayFloor: asText(paidLessThan(terms.payFloorPerHourMinor)),
    probabilityOutOfPocket: asText(paidLessThan(0)),
    payPerHour: payRange(held.map(({ turnout: { probability }, perHourMinor }) => ({ probability, perHourMinor }))),
  };
}

function leftAfter(takingsMinor: Decimal, { ownerHours }: Turnout, perHourMinor: number): Decimal {
  return settled(takingsMinor.minus(ownerHours.times(perHourMinor)));
}

function costPerStudent(terms: PriceTerms, { students, costMinor, ownerHours }: Turnout): Decimal {
  return ownerHours.times(terms.wagePerHourMinor).plus(costMinor).div(students);
}
