import type { Transaction } from '../../../database/transaction.js';
import { newId } from '../../../http/ids.js';
import { Problem } from '../../../problems.js';
import { type Member, noteChange } from '../../courses/changes.js';
import { lockCourse } from '../../courses/service.js';
import { getPeople } from '../../people/service.js';
import type { Booking } from '../contract.js';
import { getOccupancy } from '../queries.js';
import { getBooking } from '../read-bookings.js';
import { refuseTwice } from '../take-places.js';
import type { NewNames } from './contract.js';

/** Names some of a group that booked a private session without saying who they are. The price stays: it is for so many people. */
export async function nameGuests(
  tx: Transaction,
  now: Date,
  member: Member,
  id: string,
  { attendeeIds }: NewNames,
): Promise<Booking> {
  const { courseId } = await getBooking(tx, id);
  await lockCourse(tx, courseId);
  const booking = await getBooking(tx, id); // as it is under the lock
  if (booking.state === 'cancelled')
    throw new Problem('already-cancelled', 'This booking was cancelled. Look up its course.');
  const [first, ...others] = attendeeIds;
  const people = first === undefined ? [] : await getPeople(tx, [first, ...others]);
  if (people.length > booking.unnamed)
    throw new Problem(
      'no-place',
      booking.unnamed === 0
        ? 'Everybody of this group has a name already. To let more come, cancel the booking and book for more.'
        : `Only ${booking.unnamed} of this group ${booking.unnamed === 1 ? 'has' : 'have'} no name yet. Name no more than that.`,
      { unnamed: booking.unnamed },
    );
  refuseTwice(await getOccupancy(tx, now, courseId, attendeeIds));
  const ageConfirmed = (await tx.place.findFirst({ where: { bookingId: id, ageConfirmed: true } })) !== null; // of the whole group
  await tx.place.createMany({
    data: people.map((person) => ({ id: newId(), bookingId: id, personId: person.id, ageConfirmed })),
  });
  await tx.booking.update({
    where: { id },
    data: { unnamed: booking.unnamed - people.length },
    select: { id: true },
  });
  const names = people.map(({ name }) => name).join(', ');
  await noteChange(tx, now, member, courseId, `Named in ${booking.payerName}’s group: ${names}`);
  return getBooking(tx, id);
}
