import type { Transaction } from '../../../database/transaction.js';
import { Problem } from '../../../problems.js';
import { sessionInWords } from '../../courses/session-dates.js';
import { getStudio } from '../../settings/service.js';
import type { Booking } from '../contract.js';
import type { SessionRow } from './read.js';

/** Refuses a make-up that can't be, with what to do. Call it under the locks of both courses. @returns who comes */
export async function refuseMakeUp(
  tx: Transaction,
  now: Date,
  booking: Booking,
  personId: string,
  missed: SessionRow,
  there: SessionRow,
): Promise<Booking['attendees'][number]> {
  if (booking.state === 'cancelled')
    throw new Problem('already-cancelled', `The booking has ended: ${booking.cancelledBecause}. Nothing was changed.`);
  const person = booking.attendees.find((one) => one.personId === personId);
  if (!person)
    throw new Problem(
      'not-found',
      `${booking.payerName}’s booking has no place for this person. Choose who comes on it.`,
    );
  if (missed.courseId !== booking.courseId)
    throw new Problem('not-found', 'That session is not of the course of this booking. Choose one of its own.');
  refuseThere(now, missed, there);
  await refuseNotMissed(tx, now, person, missed);
  await refuseTwice(tx, person, missed, there);
  return person;
}

const refuse = (sentence: string): never => {
  throw new Problem('no-make-up', sentence);
};

function refuseThere(now: Date, missed: SessionRow, there: SessionRow): void {
  const { course } = there;
  if (course.id === missed.courseId) refuse('That session is of the same course. Choose one of another course.');
  if (there.startsAt <= now || course.completedOn !== null)
    throw new Problem('course-over', 'That session has begun. Choose one that is still to come.');
  if (there.cancelledAt !== null || course.cancelledAt !== null)
    throw new Problem('course-over', 'That session is cancelled. Choose another one.');
  if (course.plan.kind !== 'course')
    refuse('A session is made up in a course, not in a private session or open studio.');
  if (there.purpose !== missed.purpose)
    refuse(`A session for ${missed.purpose} is made up in another one for ${missed.purpose}. Choose one of those.`);
}

/** A session that is over was missed only where the register says so. */
async function refuseNotMissed(
  tx: Transaction,
  now: Date,
  { personId, name }: Booking['attendees'][number],
  { id, startsAt, cancelledAt }: SessionRow,
): Promise<void> {
  if (startsAt > now || cancelledAt !== null) return;
  const last = await tx.attendance.findFirst({
    where: { sessionId: id, personId },
    orderBy: [{ notedAt: 'desc' }, { id: 'desc' }],
  });
  if (last?.came === true) refuse(`${name} came to that session, so there is nothing to make up.`);
  if (last?.came !== false) refuse(`Note on the register first that ${name} did not come to that session.`);
}

async function refuseTwice(
  tx: Transaction,
  { personId, name }: Booking['attendees'][number],
  missed: SessionRow,
  there: SessionRow,
): Promise<void> {
  const studio = await getStudio(tx);
  const place = await tx.place.findFirst({
    where: { personId, booking: { courseId: there.courseId, cancelledAt: null } },
  });
  if (place)
    throw new Problem(
      'already-there',
      `${name} has a place on “${there.course.title}” and comes to that session anyway.`,
    );
  const other = await tx.makeUp.findFirst({
    where: { personId, endedAt: null, OR: [{ missedSessionId: missed.id }, { sessionId: there.id }] },
    include: { session: { include: { course: true } } },
  });
  if (other)
    throw new Problem(
      'already-there',
      `${name} makes up a session in “${other.session.course.title}” on ${sessionInWords(other.session, studio)} already. Take that off first.`,
    );
}
