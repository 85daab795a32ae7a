import type { Transaction } from '../../database/transaction.js';
import { Problem } from '../../problems.js';
import { daysBetween, localDay } from '../../trade/calendar.js';
import { formatMoney } from '../../trade/money.js';
import { type Refund, refundMinor } from '../../trade/refunds.js';
import { lockCharges } from '../accounts/queries.js';
import { refundInMoney } from '../accounts/refunds.js';
import { cancelCharge } from '../accounts/service.js';
import type { Course } from '../courses/contract.js';
import { hasBegun, lockCourse } from '../courses/service.js';
import type { Studio } from '../settings/contract.js';
import { refundPolicies, studio } from '../settings/service.js';
import type { Booking, Cancellation, NewCancellation } from './contract.js';
import { booking, takenPlaces } from './lists.js';

/**
 * Gives all places of a booking back, and pays back what the course's refund policy says or the owner decides: the last paid first,
 * and on a voucher what one paid. A place counts as filled again where the course was full until then: somebody else was turned
 * away for it.
 */
export async function cancelBooking(
  tx: Transaction,
  now: Date,
  id: string,
  wanted: NewCancellation,
): Promise<Cancellation> {
  const { courseId, chargeId } = await booking(tx, id);
  const course = await lockCourse(tx, courseId);
  await lockCharges(tx, [chargeId]);
  const before = await booking(tx, id); // as it stands under the locks
  refuseTooLate(before, course);
  const refund = await refundOf(tx, now, before, course, wanted);
  const moneyMinor = await refundInMoney(tx, chargeId, refund.refundMinor);
  if (moneyMinor > 0 && wanted.method === undefined)
    throw new Problem('invalid-request', 'Money goes back. Say in `method` how: cash, card or transfer.', {
      errors: [{ pointer: '#/method', detail: 'is needed' }],
      refundMinor: refund.refundMinor,
      moneyMinor,
    });

  const { reason, method } = wanted;
  await cancelCharge(tx, now, chargeId, { refundMinor: refund.refundMinor, method, reason });
  await tx.booking.update({ where: { id }, data: { cancelledAt: now, cancelledBecause: reason } });
  return { booking: await booking(tx, id), ...refund, onVoucherMinor: refund.refundMinor - moneyMinor };
}

function refuseTooLate({ state, cancelledBecause }: Booking, { completedOn }: Course): void {
  if (state === 'cancelled')
    throw new Problem(
      'already-cancelled',
      `The booking was cancelled before: ${cancelledBecause}. Nothing was changed.`,
    );
  if (completedOn !== null)
    throw new Problem('course-over', `The course was completed on ${completedOn}; its bookings stay as they are.`);
}

async function refundOf(tx: Transaction, now: Date, before: Booking, course: Course, wanted: NewCancellation) {
  const home = await studio(tx);
  const { paidMinor } = before;
  if (wanted.refundMinor !== undefined) return decided(paidMinor, wanted.refundMinor, home);
  const policy = (await refundPolicies(tx)).find(({ id }) => id === course.refundPolicyId);
  return refundMinor({
    paidMinor,
    daysBefore: noticeDays(now, before, course, home, wanted.asOf),
    tiers: policy?.tiers ?? [],
    refilled: (await takenPlaces(tx, now, course.id)) >= course.places,
    refilledFeeMinor: policy?.refilledFeeMinor ?? 0,
  });
}

function decided(paidMinor: number, backMinor: number, { currency, locale }: Studio): Refund {
  if (backMinor > paidMinor)
    throw new Problem(
      'more-than-owed',
      `Only ${formatMoney(paidMinor, currency, locale)} was paid; no more can go back.`,
      { paidMinor },
    );
  return { refundMinor: backMinor, keptMinor: paidMinor - backMinor, because: 'The owner decided so.' };
}

/** Whole days from the day of notice to the first session; below zero once that has begun, when only the owner can decide. */
function noticeDays(now: Date, before: Booking, course: Course, { timeZone }: Studio, asOf?: string): number {
  const today = localDay(now, timeZone);
  const noticeOn = asOf ?? today;
  const bookedOn = localDay(new Date(before.bookedAt), timeZone);
  if (noticeOn > today || noticeOn < bookedOn)
    throw new Problem('invalid-request', `Notice was given between the booking on ${bookedOn} and today, ${today}.`, {
      errors: [{ pointer: '#/asOf', detail: `must lie between ${bookedOn} and ${today}` }],
    });
  const days = daysBetween(noticeOn, localDay(new Date(course.sessions[0]?.startsAt ?? now), timeZone));
  return noticeOn === today && hasBegun(course, now) ? Math.min(days, -1) : days;
}
