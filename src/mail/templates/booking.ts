import { z } from 'zod';
import { type Correspondents, capital, indented, type Letter, letterText } from './letter.js';
import { howToPayIn, ifYouCancel, LetterPayment, placesSentence, safetyAdvice, Visit, whenAndWhere } from './visit.js';

/** What is frozen of a booking for its letter, in words and in the studio's time. */
export const BookingData = Visit.extend({
  /** what is to pay for it */
  price: z.string(),
  /** what a membership includes of it besides; null where that is nothing */
  included: z.object({ what: z.string(), amount: z.string() }).nullable().default(null),
  /** null where none is asked, and the booking is confirmed without */
  deposit: z.string().nullable(),
  /** until when its places are held for the deposit */
  heldUntil: z.string().nullable(),
  /** what is due by the day on which the hold ends, or today where nothing is held, where that is more than the deposit */
  dueNow: z.string().nullable().default(null),
  /** that day, while places are held */
  dueNowBy: z.string().nullable().default(null),
  /** what is due later, and by which days; letters of when a balance was one payment hold that one, or null */
  balance: z.union([z.array(LetterPayment), LetterPayment.transform((only) => [only]), z.null().transform(() => [])]),
});
type BookingData = z.output<typeof BookingData>;

/** Confirms a booking, or says until when it is held, with what a person needs to know to come. */
export function bookingLetter(data: BookingData, correspondents: Correspondents): Letter {
  const { course, heldUntil } = data;
  const are = data.attendees.length > 1 ? 'are' : 'is';
  const subject =
    heldUntil === null
      ? `Your booking: ${course}`
      : `${capital(placesSentence(data))} on ${course} ${are} held until ${heldUntil}`;
  return letterText(correspondents, subject, [
    heldUntil === null ? `You’re booked in for ${course}. We look forward to seeing you.` : held(data, heldUntil),
    ...whenAndWhere(data, correspondents),
    data.included && `Your membership includes ${data.included.what}, ${data.included.amount} of the price.`,
    ...(isFree(data) ? ['There is nothing to pay.'] : [price(data), howToPayIn(data)]),
    ...safetyAdvice(data),
    ifYouCancel(data),
  ]);
}

/** A membership includes all of it. */
const isFree = ({ included, deposit, dueNow, balance }: BookingData) =>
  included !== null && deposit === null && dueNow === null && balance.length === 0;

function held(data: BookingData, heldUntil: string): string {
  const { course, deposit, attendees } = data;
  const them = attendees.length > 1 ? 'them' : 'it';
  const keep = deposit === null ? 'confirm' : `pay the deposit of ${deposit}`;
  return (
    `We are holding ${placesSentence(data)} on ${course} until ${heldUntil}. To keep ${them}, please ${keep} by then. ` +
    `Otherwise we may offer ${them} to someone else.`
  );
}

function price({ price, dueNow, ...data }: BookingData): string {
  const [only, ...more] = data.balance;
  if (dueNow !== null) return `The price is ${price}. ${dueFirst(dueNow, data)}${rest(data.balance)}`;
  if (!only) return `The price is ${price}.`;
  if (more.length === 0 && only.amount === price) return `The price is ${price}, to be paid by ${only.by}.`;
  return `The price is ${price}.${rest(data.balance)}`;
}

function dueFirst(dueNow: string, { deposit, dueNowBy, balance }: Omit<BookingData, 'price' | 'dueNow'>): string {
  const what = balance.length === 0 ? 'All of it' : dueNow;
  const by = dueNowBy === null ? 'now' : `by ${dueNowBy}`;
  return `${what} is due ${by}${deposit === null ? '' : ', including the deposit'}.`;
}

function rest(balance: BookingData['balance']): string {
  const [only, ...more] = balance;
  if (!only) return '';
  if (more.length === 0) return ` The balance of ${only.amount} is due by ${only.by}.`;
  const parts = balance.map(({ amount, by }) => `${amount} by ${by}`);
  return ` Please pay the rest in ${balance.length} instalments:\n${indented(parts)}`;
}
