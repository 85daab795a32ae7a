import { z } from 'zod';
import { type Correspondents, capital, indented, type Letter, letterText } from './letter.js';
import { howToPayIn, ifYouCancel, LetterPayment, placesSentence, safetyAdvice, Visit, whenAndWhere } from './visit.js';

/** What is frozen of a booking when its deposit has come. */
export const PlaceConfirmedData = Visit.extend({
  /** null where somebody else pays, to whom alone sums are told */
  paid: z.string().nullable(),
  /** what is still to pay, and by which days */
  balance: z.array(LetterPayment),
});

/** Says that a place is confirmed, what is still to pay, how to get here and what to wear. */
export function placeConfirmedLetter(
  data: z.output<typeof PlaceConfirmedData>,
  correspondents: Correspondents,
): Letter {
  const { course, paid, balance, attendees } = data;
  const [places, are] = [placesSentence(data), attendees.length > 1 ? 'are' : 'is'];
  return letterText(correspondents, `Confirmed: ${places} on ${course}`, [
    paid === null
      ? `${capital(places)} on ${course} ${are} confirmed. We look forward to seeing you.`
      : `Thank you: ${paid} has reached us, and ${places} on ${course} ${are} confirmed. We look forward to seeing you.`,
    ...whenAndWhere(data, correspondents),
    balance.length === 0
      ? paid && 'There is nothing more to pay.'
      : `Still to pay:\n${indented(balance.map(({ amount, by }) => `${amount} by ${by}`))}`,
    balance.length === 0 ? null : howToPayIn(data),
    ...safetyAdvice(data),
    ifYouCancel(data),
  ]);
}
