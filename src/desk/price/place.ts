import type { PriceInputs } from '../../trade/course-price.js';
import { Decimal } from '../../trade/money.js';

/** What becomes of the price of one place. Exact minor units; the parts that go away are below zero. */
export type Place = { price: Decimal; vat: Decimal; card: Decimal; student: Decimal; towards: Decimal };

/**
 * What is left of a place's price towards the cost of the course when VAT, the card company and what the student uses are paid.
 * With n students a course leaves n * towards, less what it costs however many come.
 *
 * @param perStudentMinor what a student uses, without the owner's time (decimal string)
 */
export function placeOf(inputs: PriceInputs, priceMinor: number, perStudentMinor: string): Place {
  const price = new Decimal(priceMinor);
  const vat = price.times(inputs.vatPercent).div(new Decimal(inputs.vatPercent).plus(100)).neg();
  const fixed = new Decimal(inputs.cardFixedMinor).times(inputs.payments);
  const card = price.times(inputs.cardPercent).div(100).plus(fixed).neg();
  const time = new Decimal(inputs.ownerHoursPerStudent).times(inputs.wagePerHourMinor);
  const student = new Decimal(perStudentMinor).plus(time).neg();
  return { price, vat, card, student, towards: price.plus(vat).plus(card).plus(student) };
}

/** What the course costs with so many students beside what each of them uses: room, advertising, your hours, a second tutor. */
export function courseCost(inputs: PriceInputs, fixedMinor: string, students: number): Decimal {
  const time = new Decimal(inputs.ownerHours).times(inputs.wagePerHourMinor);
  const { secondTutor } = inputs;
  const tutor = secondTutor && students > secondTutor.above ? secondTutor.feeMinor : 0;
  return new Decimal(fixedMinor).plus(time).plus(tutor);
}
