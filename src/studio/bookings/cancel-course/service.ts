import type { Transaction } from '../../../database/transaction.js';
import { moneyInText } from '../../../documents/words.js';
import { sentenceOf } from '../../../mail/templates/letter.js';
import { Problem } from '../../../problems.js';
import { lastMoneyMethod, lockVouchersOf, refundInMoney } from '../../accounts/payments/refunds.js';
import { lockCharges } from '../../accounts/queries.js';
import { freedBy, markCancelled, refuseUncancellable } from '../../courses/cancel-course.js';
import { type Member, noteChange } from '../../courses/changes.js';
import type { Course } from '../../courses/contract.js';
import { getCourse, lockCourse } from '../../courses/service.js';
import { getStudio } from '../../settings/service.js';
import { endBooking } from '../cancellation.js';
import { pricePlaces } from '../cancelled-prices.js';
import type { Booking } from '../contract.js';
import { comersOf } from '../groups/comers.js';
import { endMakeUpsAt } from '../make-ups/service.js';
import { listOtherAttendees } from '../other-attendees.js';
import { listBookingsOf } from '../read-bookings.js';
import type { CancelledBooking, CourseCancellation, NewCourseCancellation } from './contract.js';
import { type Letters, lettersOf } from './letters.js';

/**
 * Cancels a course as a whole, in one step: every booking and hold, with all that is still paid for its places going back whatever the
 * refund policy says; everybody on the waiting list; its sessions, which free their rooms and tutors. Each is told, and why.
 */
export async function cancelCourse(
  tx: Transaction,
  now: Date,
  member: Member,
  courseId: string,
  wanted: NewCourseCancellation,
): Promise<CourseCancellation> {
  const course = await lockCourse(tx, courseId);
  await refuseUncancellable(tx, now, course);
  const bookings = await lockBookings(tx, courseId);
  const people = bookings.reduce((sum, { attendees, unnamed }) => sum + attendees.length + unnamed, 0);
  refuseEnoughBooked(course, bookings, wanted);
  const studio = await getStudio(tx);
  const freed = await freedBy(tx, course, studio);
  const letters = await lettersOf(tx, now, course, wanted.reason);
  const ended: CancelledBooking[] = [];
  for (const booking of bookings) ended.push(await cancelOne(tx, now, booking, course, wanted, letters));
  const alsoTold = await listOtherAttendees(tx, bookings);
  for (const attendee of alsoTold) await letters.tellAttendee(attendee);
  const waiting = await endWaiting(tx, now, course, letters);
  await endMakeUpsAt(
    tx,
    now,
    course.sessions.map(({ id }) => id),
    wanted.reason,
  );
  await markCancelled(tx, now, member, course, wanted);
  const sum = (of: (booking: CancelledBooking) => number) => ended.reduce((total, booking) => total + of(booking), 0);
  const totals = {
    people,
    unpaidMinor: sum(({ unpaidMinor }) => unpaidMinor),
    refundMinor: sum(({ refundMinor }) => refundMinor),
    onVoucherMinor: sum(({ onVoucherMinor }) => onVoucherMinor),
    keptMinor: sum(({ keptMinor }) => keptMinor),
  };
  const back =
    totals.refundMinor === 0 ? 'Nothing had been paid' : `${moneyInText(studio)(totals.refundMinor)} went back`;
  const had =
    people === 0 ? 'Nobody had a place' : people === 1 ? 'One person had a place' : `${people} people had a place`;
  await noteChange(tx, now, member, courseId, `The course is cancelled: ${sentenceOf(wanted.reason)} ${had}. ${back}.`);
  const toldIds = alsoTold.map(({ personId, name }) => ({ personId, name }));
  return { course: datesOf(await getCourse(tx, courseId)), bookings: ended, waiting, alsoTold: toldIds, freed, totals };
}

/** The bookings that are still there, with their charges and the vouchers that paid for them locked in their order. */
async function lockBookings(tx: Transaction, courseId: string): Promise<Booking[]> {
  const isOpen = ({ state }: Booking) => state !== 'cancelled';
  const chargeIds = (await listBookingsOf(tx, courseId)).filter(isOpen).map(({ chargeId }) => chargeId);
  await lockCharges(tx, chargeIds);
  await lockVouchersOf(tx, chargeIds);
  return (await listBookingsOf(tx, courseId)).filter(isOpen); // as they are under the locks
}

/** What a price learns from a course that had too few must be true. */
function refuseEnoughBooked({ minimum }: Course, bookings: readonly Booking[], { cause }: NewCourseCancellation): void {
  const places = bookings.reduce((sum, { attendees, unnamed }) => sum + attendees.length + unnamed, 0);
  if (cause === 'other' || places < minimum) return;
  const has = places === 1 ? 'One place is' : `${places} places are`;
  throw new Problem(
    'enough-booked',
    `${has} booked or held, and the minimum is ${minimum}, so there are not too few. Choose the other cause.`,
    { errors: [{ pointer: '#/cause', detail: 'must be another, as enough have booked' }] },
  );
}

async function cancelOne(
  tx: Transaction,
  now: Date,
  before: Booking,
  course: Course,
  { reason, ...wanted }: NewCourseCancellation,
  letters: Letters,
): Promise<CancelledBooking> {
  const { id: bookingId, payerId, payerName, state, paidMinor, owedMinor: unpaidMinor, chargeId } = before;
  const { paidMinor: refundMinor } = await pricePlaces(tx, before, course, before.attendees);
  const keptMinor = paidMinor - refundMinor;
  const moneyMinor = await refundInMoney(tx, chargeId, refundMinor);
  const method = moneyMinor === 0 ? undefined : (wanted.method ?? (await lastMoneyMethod(tx, chargeId)));
  const letter = letters.withCreditNote(before, { refundMinor, keptMinor });
  await endBooking(tx, now, before, { refundMinor, method, reason, letter });
  if (refundMinor === 0) await letters.tellPayer(before, keptMinor);
  const attendees = comersOf(before);
  const onVoucherMinor = refundMinor - moneyMinor;
  return {
    ...{ bookingId, payerId, payerName, state, attendees, paidMinor, unpaidMinor },
    ...{ refundMinor, onVoucherMinor, method: method ?? null, keptMinor },
  };
}

/** Nobody waits any more, and what was offered is not kept. */
async function endWaiting(tx: Transaction, now: Date, { id: courseId }: Course, letters: Letters) {
  const rows = await tx.waitingEntry.findMany({
    where: { courseId, endedAt: null },
    include: { person: true },
    orderBy: [{ since: 'asc' }, { id: 'asc' }],
  });
  const waiting = rows.map(({ id: entryId, personId, person, places, offeredAt }) => ({
    ...{ entryId, personId, name: person.name, places, wasOffered: offeredAt !== null },
  }));
  await tx.waitingEntry.updateMany({
    where: { id: { in: waiting.map(({ entryId }) => entryId) } },
    data: { endedAt: now, ended: 'courseCancelled' },
  });
  for (const entry of waiting) await letters.tellWaiting(entry);
  return waiting;
}

const datesOf = ({ sessions, cancelledSessions, ...course }: Course) => ({
  ...{ id: course.id, planId: course.planId, kind: course.kind, title: course.title, places: course.places },
  ...{ minimum: course.minimum, decideOn: course.decideOn, note: course.note },
  ...{ bookableFrom: course.bookableFrom, bookableUntil: course.bookableUntil },
  ...{ ageFrom: course.ageFrom, ageTo: course.ageTo },
  ...{ completedOn: course.completedOn, cancelled: course.cancelled },
  ...{ sessions, cancelledSessions },
});
