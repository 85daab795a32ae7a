import type { Transaction } from '../../database/transaction.js';
import { recipientOf, WITH_GUARDIANS } from '../people/guardians.js';
import type { Booking } from './contract.js';

export type OtherAttendee = { personId: string; name: string; bookingId: string };

/**
 * Who comes on a booking that somebody else pays, and has an email address of their own: what changes about the course is told to them
 * too, without sums; of a child, their guardian reads it. Somebody who shares an address with the payer, or with another of these, hears of it there; so does somebody who
 * pays for a booking of this course themselves.
 */
export async function listOtherAttendees(
  tx: Transaction,
  bookings: readonly Pick<Booking, 'id' | 'payerId' | 'attendees'>[],
): Promise<OtherAttendee[]> {
  const payerIds = new Set(bookings.map(({ payerId }) => payerId));
  const others = bookings.flatMap(({ id: bookingId, payerId, attendees }) =>
    attendees
      .filter(({ personId }) => !payerIds.has(personId))
      .map(({ personId, name }) => ({ personId, name, bookingId, payerId })),
  );
  if (others.length === 0) return [];
  const ids = others.flatMap(({ personId, payerId }) => [personId, payerId]);
  const people = await tx.person.findMany({ where: { id: { in: ids } }, include: WITH_GUARDIANS });
  const emailOf = new Map(people.map((person) => [person.id, recipientOf(person).email?.toLowerCase()]));
  const told = new Set(others.map(({ bookingId, payerId }) => `${bookingId} ${emailOf.get(payerId)}`));
  return others.flatMap(({ personId, name, bookingId }) => {
    const email = emailOf.get(personId);
    const key = `${bookingId} ${email}`;
    if (email === undefined || told.has(key)) return [];
    told.add(key);
    return [{ personId, name, bookingId }];
  });
}
