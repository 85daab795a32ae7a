import { z } from 'zod';
import { type Correspondents, indented, type Letter, letter } from './letter.js';

const Part = z.object({ amount: z.string(), by: z.string() });

/** What is frozen of a booking for its letter, in words and in the studio's time. */
export const BookingData = z.object({
  course: z.string(),
  sessions: z.array(z.string()).min(1),
  attendees: z.array(z.string()),
  price: z.string(),
  /** null where none is asked, and the booking is confirmed without */
  deposit: z.string().nullable(),
  heldUntil: z.string().nullable(),
  /** what is due on the day of booking, where that is more than the deposit: some of the balance was due before */
  dueNow: z.string().nullable().default(null),
  /** what is due later, and by which days; letters of when a balance was one payment hold that one, or null */
  balance: z.union([z.array(Part), Part.transform((only) => [only]), z.null().transform(() => [])]),
});
type BookingData = z.output<typeof BookingData>;

/** Confirms a booking, or says until when it is held, with what a person needs to know to come. */
export function bookingLetter(data: BookingData, correspondents: Correspondents): Letter {
  const held = data.heldUntil !== null;
  const subject = held
    ? `We hold your place until ${data.heldUntil}: ${data.course}`
    : `You are booked: ${data.course}`;
  const { studio } = correspondents;
  return letter(correspondents, subject, [
    held ? heldUntil(data) : `You are booked on ${data.course}. We look forward to seeing you.`,
    `When:\n${indented(data.sessions)}`,
    `Where:\n${indented([studio.name, ...studio.addressLines])}`,
    data.attendees.length > 0 ? `Who comes:\n${indented(data.attendees)}` : null,
    price(data),
    'Wear clothes that clay may touch and closed shoes. Tie long hair back, and leave rings and bracelets at home.',
    'Dry clay is dust that harms the lungs, so we clean with water: please never sweep or sand. If dust or a material troubles you, tell us before you come.',
    'If you can’t come, tell us as early as you can: an answer to this message is enough.',
  ]);
}

function heldUntil({ course, deposit, heldUntil }: BookingData): string {
  const pay = deposit === null ? 'Confirm it' : `Pay the deposit of ${deposit}`;
  return `We hold your place on ${course} until ${heldUntil}. ${pay} by then and the place is yours. After that it is free for others.`;
}

function price({ price, deposit, dueNow, balance }: BookingData): string {
  const now = dueNow === null ? '' : ` ${dueNow} of it is due now${deposit === null ? '' : ', the deposit included'}.`;
  const [only] = balance;
  if (!only) return `The price is ${price}.${now}`;
  if (balance.length === 1) return `The price is ${price}.${now} Please pay ${only.amount} of it by ${only.by}.`;
  const parts = balance.map(({ amount, by }) => `${amount} by ${by}`);
  return `The price is ${price}.${now} Please pay the rest in ${balance.length} parts:\n${indented(parts)}`;
}
