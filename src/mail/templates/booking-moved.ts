import { z } from 'zod';
import { type Correspondents, indented, type Letter, letterText } from './letter.js';
import { howToPayIn, ifYouCancel, LetterPayment, placesSentence, safetyAdvice, Visit, whenAndWhere } from './visit.js';

/** What is frozen of a booking that was moved to another course, in words and in the studio's time; the rest is of the new course. */
export const BookingMovedData = Visit.extend({
  /** what was booked before, with its days */
  before: z.string(),
  priceBefore: z.string(),
  price: z.string(),
  /** of what was paid, what now pays for the new course; null where nothing was paid */
  carried: z.object({ amount: z.string(), receiptNumber: z.string() }).nullable(),
  /** what the owner keeps for the change */
  kept: z.string().nullable(),
  refund: z.string().nullable(),
  /** what is kept for them on a new voucher, which has a letter of its own */
  credit: z.string().nullable(),
  /** until when the new places are held, and what confirms them; null where they are confirmed */
  hold: z.object({ until: z.string(), deposit: z.string() }).nullable(),
  /** what is still to pay, and by which days */
  balance: z.array(LetterPayment),
});

/** Says what was booked before and what is booked now, what became of the money, what is still to pay, and how to get here. */
export function bookingMovedLetter(data: z.output<typeof BookingMovedData>, correspondents: Correspondents): Letter {
  const { course, before } = data;
  const places = placesSentence(data);
  return letterText(correspondents, `Moved: ${places} on ${course}`, [
    `As you asked, we have moved ${places} from ${before} to ${course}.`,
    hold(data),
    ...whenAndWhere(data, correspondents),
    money(data),
    data.balance.length === 0
      ? 'There is nothing more to pay.'
      : `Still to pay:\n${indented(data.balance.map(({ amount, by }) => `${amount} by ${by}`))}`,
    data.balance.length === 0 ? null : howToPayIn(data),
    ...safetyAdvice(data),
    ifYouCancel(data),
  ]);
}

function hold({ hold: held, attendees }: z.output<typeof BookingMovedData>): string | null {
  if (held === null) return null;
  const them = attendees.length > 1 ? 'them' : 'it';
  return `We are holding ${them} until ${held.until}. To keep ${them}, please pay ${held.deposit} by then. Otherwise we may offer ${them} to someone else.`;
}

function money({ price, priceBefore, carried, kept, refund, credit }: z.output<typeof BookingMovedData>): string {
  const said = [
    price === priceBefore ? `The price stays ${price}.` : `The price is ${price}; it was ${priceBefore}.`,
    carried && `${carried.amount} that you have paid counts towards it: receipt ${carried.receiptNumber} is attached.`,
    kept && `We keep ${kept} for the change.`,
    refund && `${refund} goes back to you.`,
    credit && `${credit} stays with us as your credit, on a voucher that you get with another email.`,
  ];
  return said.filter((sentence) => sentence !== null).join(' ');
}
