import type { PriceInputs } from '../../trade/course-price.js';
import { Decimal } from '../../trade/money.js';
import { readTakings } from '../../trade/price-takings.js';
import { settled } from '../../trade/price-terms.js';

/** What becomes of the price of one place, the mean of all where they are sold at several. Exact minor units; the parts that go away are below zero. */
export type Place = { price: Decimal; vat: Decimal; card: Decimal; student: Decimal; towards: Decimal };

/**
 * What is left of a place's price towards the cost of the course when VAT, the card company and what the student uses are paid.
 * With n students a course leaves n * towards, less what it costs however many come.
 *
 * @param priceMinor      the full price
 * @param perStudentMinor what a student uses, without the owner's time (decimal string)
 */
export function placeOf(inputs: PriceInputs, priceMinor: number, perStudentMinor: string): Place {
  const { paidPart, discountMinor, cardPart, cardFixedMinor, keptPart, keptPlusMinor } = readTakings(inputs);
  const price = settled(paidPart.times(priceMinor).minus(discountMinor));
  const percentage = price.times(cardPart);
  const vat = settled(keptPart.times(priceMinor).plus(keptPlusMinor).plus(percentage).minus(price));
  const card = percentage.plus(cardFixedMinor).neg();
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
