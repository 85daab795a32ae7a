import { z } from 'zod';
import type { Transaction } from '../../../database/transaction.js';
import { Id } from '../../../http/types.js';
import { Session } from '../../courses/contract.js';
import { sessionInWords } from '../../courses/session-dates.js';
import type { Occasion } from '../../notices/contract.js';
import { notify } from '../../notices/service.js';
import type { Studio } from '../../settings/contract.js';
import type { Booking } from '../contract.js';
import { comersOf } from '../groups/comers.js';
import { listOtherAttendees } from '../other-attendees.js';
import { listLapsedHolds } from '../queries.js';
import { listBookingsOf } from '../read-bookings.js';

/** What can be in the way of a session's new time. */
export const IN_THE_WAY = [
  ...([
    'not-found',
    'course-over',
    'wrong-time',
    'too-soon',
    'tutor-busy',
    'room-full',
    'closed-day',
    'set-up-missing',
  ] as const),
];

export const Concerned = z.object({
  bookingId: Id,
  payerId: Id,
  payerName: z.string(),
  attendees: z.array(z.string()),
});

export const AlsoTold = z.array(z.object({ personId: Id, name: z.string() })).meta({
  description: 'Who comes on a booking that somebody else pays, and has an email address of their own.',
});

/** What became of a session, and who is told. */
export const SessionChange = z.object({
  session: Session,
  concerned: z.array(Concerned).meta({ description: 'The bookings that are told; nobody where only tutors changed.' }),
  alsoTold: AlsoTold,
});

/** The bookings that a change of a course's sessions concerns. A hold that has run out is told nothing: it is released. */
export async function listConcerned(tx: Transaction, now: Date, courseId: string): Promise<Booking[]> {
  const lapsed = new Set((await listLapsedHolds(tx, now, courseId)).map(({ id }) => id));
  return (await listBookingsOf(tx, courseId)).filter(({ id, state }) => state !== 'cancelled' && !lapsed.has(id));
}

export const showConcerned = ({ id, payerId, payerName, ...booking }: Booking) => ({
  ...{ bookingId: id, payerId, payerName },
  attendees: comersOf(booking),
});

/** Writes to those who come on somebody else's booking; `data` is what the letter says to one of them, by name. */
export async function tellOthers(
  tx: Transaction,
  now: Date,
  bookings: readonly Pick<Booking, 'id' | 'payerId' | 'attendees'>[],
  occasion: Occasion,
  data: (attendees: string[]) => object,
): Promise<z.output<typeof AlsoTold>> {
  const others = await listOtherAttendees(tx, bookings);
  for (const { personId, name } of others) await notify(tx, now, { personId, occasion, data: data([name]) });
  return others.map(({ personId, name }) => ({ personId, name }));
}

/** Writes to each payer, and to those who come on somebody else's booking. */
export async function tellAll(
  tx: Transaction,
  now: Date,
  bookings: readonly Booking[],
  occasion: Occasion,
  data: (attendees: string[], bookingId?: string) => object,
): Promise<Omit<z.output<typeof SessionChange>, 'session'>> {
  const concerned = bookings.map(showConcerned);
  for (const { payerId: personId, attendees, bookingId } of concerned)
    await notify(tx, now, { personId, occasion, data: data(attendees, bookingId) });
  return { concerned, alsoTold: await tellOthers(tx, now, bookings, occasion, data) };
}

/** "Tuesday 14 April 2026, 19:00 to 21:30, Long room" */
export const sessionTold = (session: Session, studio: Studio): string =>
  `${sessionInWords(session, studio)}, ${session.roomName}`;
