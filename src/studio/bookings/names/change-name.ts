import type { Transaction } from '../../../database/transaction.js';
import { Problem, see } from '../../../problems.js';
import { type Member, noteChange } from '../../courses/changes.js';
import { agesInWords } from '../../courses/selling.js';
import { hasBegun, lockCourse } from '../../courses/service.js';
import { getPerson } from '../../people/service.js';
import { getStudio } from '../../settings/service.js';
import { refuseTooLate } from '../cancellation.js';
import { visitOf } from '../letters.js';
import { cancelToOthers, confirmToOthers } from '../letters-to-others.js';
import { getOccupancy } from '../queries.js';
import { getBooking } from '../read-bookings.js';
import type { NameChange, NewNameChange } from './contract.js';

/**
 * Lets somebody else come on a place of a booking. The place, its price and who pays stay as they are; who had waited for a place waits
 * no more. Both are told who have an email address of their own.
 */
export async function changeName(
  tx: Transaction,
  now: Date,
  member: Member,
  bookingId: string,
  { personId, toPersonId, agesConfirmed = false }: NewNameChange,
): Promise<NameChange> {
  const { courseId } = await getBooking(tx, bookingId);
  const course = await lockCourse(tx, courseId);
  const before = await getBooking(tx, bookingId); // as it is under the lock
  const studio = await getStudio(tx);
  refuseTooLate(before, course, studio);
  if (hasBegun(course, now))
    throw new Problem(
      'course-over',
      'The course has begun, and its register says who came. Names stay as they are now.',
    );
  const from = before.attendees.find((one) => one.personId === personId);
  if (!from)
    throw new Problem(
      'not-found',
      `${before.payerName}’s booking has no place for this person. Look the booking up again.`,
    );
  const to = await getPerson(tx, toPersonId);
  const waitingIds = await refuseThere(tx, now, courseId, { id: toPersonId, name: to.name });
  await refuseMakingUp(tx, bookingId, from);
  const ages = agesInWords(course);
  if (ages && !agesConfirmed)
    throw new Problem(
      'age-limit',
      `“${course.title}” is for people aged ${ages}. Say that ${to.name} is, or choose somebody else.`,
    );

  await tx.waitingEntry.updateMany({ where: { id: { in: waitingIds } }, data: { endedAt: now, ended: 'booked' } });
  await tx.place.updateMany({
    where: { bookingId, personId },
    data: { personId: toPersonId, ageConfirmed: agesConfirmed },
  });
  await tx.waitingEntry.updateMany({ where: { id: { in: waitingIds } }, data: { bookingId } });
  await noteChange(
    tx,
    now,
    member,
    courseId,
    `${to.name} comes instead of ${from.name}, on ${before.payerName}’s booking.`,
  );
  const booking = await getBooking(tx, bookingId);
  if (booking.state === 'confirmed') {
    const only = (one: { personId: string; name: string }) => ({ ...booking, attendees: [{ ...from, ...one }] });
    await cancelToOthers(tx, now, only(from), course.title);
    const comes = only({ personId: toPersonId, name: to.name });
    await confirmToOthers(tx, now, comes, await visitOf(tx, comes, course, studio));
  }
  return { booking, concession: from.concession };
}

/** @returns where they are on its waiting list */
async function refuseThere(tx: Transaction, now: Date, courseId: string, to: { id: string; name: string }) {
  const { comes, makesUp, waitingIds } = await getOccupancy(tx, now, courseId, [to.id]);
  if (comes)
    throw new Problem('already-there', `${to.name} has a place on this course already. Choose somebody else.`, {
      bookingId: comes.bookingId,
    });
  if (makesUp !== null)
    throw new Problem('already-there', `${to.name} makes up a session on this course. Take that off first.`);
  return waitingIds;
}

async function refuseMakingUp(
  tx: Transaction,
  bookingId: string,
  { personId, name }: { personId: string; name: string },
) {
  const open = await tx.makeUp.findFirst({ where: { bookingId, personId, endedAt: null } });
  if (open)
    throw new Problem(
      'still-needed',
      `${name} makes a session of this course up elsewhere. Take that off first.`,
      see('courses', `/api/bookings/${bookingId}`),
    );
}
