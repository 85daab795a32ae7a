import type { Transaction } from '../../database/transaction.js';
import { Problem } from '../../problems.js';
import { refundByPlace } from '../../trade/money/cancelled-places.js';
import { formatDay } from '../../trade/text/format.js';
import { cancelCharge } from '../accounts/charges/charges.js';
import { lockCharges } from '../accounts/queries.js';
import type { Course } from '../courses/contract.js';
import { hasBegun, lockCourse } from '../courses/service.js';
import type { Studio } from '../settings/contract.js';
import { getStudio } from '../settings/service.js';
import { cancelPlaces } from './cancel-places.js';
import type { Booking, Cancellation, NewCancellation } from './contract.js';
import { noteGivenUp, placesOf } from './given-up-places.js';
import { writeCancellation } from './letters.js';
import { cancelToOthers } from './letters-to-others.js';
import { getBooking } from './read-bookings.js';
import { decideRefund } from './refund-decision.js';
import { whoIsNext } from './waiting-list/entries.js';

/**
 * Gives places of a booking up, all or those of some who would have come, and pays back what the course's refund policy says by its
 * tiers or the owner decides: the last paid first, and on a voucher what one paid.
 */
export async function cancelBooking(
  tx: Transaction,
  now: Date,
  id: string,
  wanted: NewCancellation,
): Promise<Cancellation> {
  const { courseId, chargeId } = await getBooking(tx, id);
  const course = await lockCourse(tx, courseId);
  await lockCharges(tx, [chargeId]);
  const before = await getBooking(tx, id); // as it stands under the locks
  refuseTooLate(before, course, await getStudio(tx));
  const isPart = namesPart(before, wanted.attendeeIds);
  return isPart ? cancelPlaces(tx, now, before, course, wanted) : cancelWhole(tx, now, before, course, wanted);
}

async function cancelWhole(
  tx: Transaction,
  now: Date,
  before: Booking,
  course: Course,
  wanted: NewCancellation,
): Promise<Cancellation> {
  const { id } = before;
  const decided = await decideRefund(tx, now, before, course, wanted, before.attendees);
  const { explanation, furtherMinor, priced, moneyMinor, ...refund } = decided;
  const { refundMinor } = refund;
  const { reason, method } = wanted;
  await endBooking(tx, now, before, { refundMinor, method, reason, explanation });
  // what was only held for its deposit was never theirs, and after the start nobody can fill a place
  const places = placesOf(course, before.attendees.length);
  if (before.state === 'confirmed' && !hasBegun(course, now))
    await noteGivenUp(tx, course, id, { places, furtherMinor });
  if (refundMinor === 0) await writeCancellation(tx, now, before, explanation);
  if (before.state === 'confirmed') await cancelToOthers(tx, now, before, course.title);
  return {
    ...{ booking: await getBooking(tx, id), ...refund, onVoucherMinor: refundMinor - moneyMinor, furtherMinor },
    places: course.kind === 'private' ? [] : refundByPlace(priced.places, refundMinor),
    next: await whoIsNext(tx, now, course),
  };
}

/** Ends a whole booking: nothing more is asked for it, and of what was paid the refund goes back. Call it under the locks. */
export async function endBooking(
  tx: Transaction,
  now: Date,
  { id, chargeId }: Pick<Booking, 'id' | 'chargeId'>,
  how: Parameters<typeof cancelCharge>[3],
): Promise<void> {
  await cancelCharge(tx, now, chargeId, how);
  await tx.booking.update({ where: { id }, data: { cancelledAt: now, cancelledBecause: how.reason } });
}

/** Whether only some of those who come are named; refused where somebody is who does not. */
function namesPart({ attendees, cancelledPlaces, payerName }: Booking, ids: readonly string[] | undefined): boolean {
  if (ids === undefined) return false;
  for (const id of ids) {
    if (attendees.some(({ personId }) => personId === id)) continue;
    const gone = cancelledPlaces.findLast(({ personId }) => personId === id);
    if (gone)
      throw new Problem(
        'already-cancelled',
        `${gone.name}’s place was cancelled before: ${gone.because}. Nothing was changed.`,
      );
    throw new Problem('not-found', `${payerName}’s booking has no place for this person. Choose among those who come.`);
  }
  return ids.length < attendees.length;
}

export function refuseTooLate(
  { state, cancelledBecause, movedToId }: Booking,
  { completedOn }: Course,
  { locale }: Studio,
): void {
  if (movedToId !== null)
    throw new Problem('already-cancelled', `The booking was moved before: ${cancelledBecause}. Nothing was changed.`, {
      bookingId: movedToId,
    });
  if (state === 'cancelled')
    throw new Problem(
      'already-cancelled',
      `The booking was cancelled before: ${cancelledBecause}. Nothing was changed.`,
    );
  if (completedOn !== null)
    throw new Problem(
      'course-over',
      `The course was completed on ${formatDay(completedOn, locale)}; its bookings can’t be changed.`,
    );
}
