import { Decimal } from '../../../../trade/money/money.js';
import type { PriceInputs } from '../../../../trade/pricing/course-price.js';
import { settled } from '../../../../trade/pricing/price-terms.js';
import { readTakings } from '../../../../trade/pricing/takings.js';

/** Where the full price of one place. Exact minor units; the parts that go away are below zero, `reduced` for what some pay less. */
export type Place = {
  price: Decimal;
  reduced: Decimal;
  vat: Decimal;
  card: Decimal;
  student: Decimal;
  towards: Decimal;
};

/**
 * What is left of a place's price towards the cost of the course when VAT, the card company and what the student uses are paid.
 * With n students a course leaves n * towards, less what it costs however many come.
 *
 * @param priceMinor      the full price
 * @param perStudentMinor what a student uses, without the owner's time (decimal string)
 */
export function placeOf(inputs: PriceInputs, priceMinor: number, perStudentMinor: string): Place {
  const { paidPart, discountMinor, cardPart, cardFixedMinor, keptPart, keptPlusMinor } = readTakings(inputs);
  const price = new Decimal(priceMinor);
  const paid = paidPart.times(priceMinor).minus(discountMinor);
  const percentage = paid.times(cardPart);
  const kept = keptPart.times(priceMinor).plus(keptPlusMinor);
  const reduced = settled(paid.minus(price));
  const vat = settled(kept.plus(percentage).minus(paid));
  const card = percentage.plus(cardFixedMinor).neg();
  const student = studentCost(inputs, perStudentMinor).neg();
  const towards = price.plus(reduced).plus(vat).plus(card).plus(student);
  return { price, reduced, vat, card, student, towards };
}

/** What one student costs: what they use, and the owner's time for them. */
export function studentCost(
  inputs: Pick<PriceInputs, 'ownerHoursPerStudent' | 'wagePerHourMinor'>,
  perStudentMinor: string,
) {
  return new Decimal(inputs.ownerHoursPerStudent).times(inputs.wagePerHourMinor).plus(perStudentMinor);
}

/** What the course costs with so many students beside what each of them uses: room, advertising, your hours, a second tutor. */
export function courseCost(inputs: PriceInputs, fixedMinor: string, students: number): Decimal {
  const time = new Decimal(inputs.ownerHours).times(inputs.wagePerHourMinor);
  const { secondTutor } = inputs;
  const tutor = secondTutor && students > secondTutor.above ? secondTutor.feeMinor : 0;
  return new Decimal(fixedMinor).plus(time).plus(tutor);
}
