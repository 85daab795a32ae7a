import type { Transaction } from '../../database/transaction.js';
import { Problem } from '../../problems.js';
import { daysBetween, localDay } from '../../trade/calendar/calendar.js';
import { formatMoneyInText } from '../../trade/money/money.js';
import { furtherRefundMinor, type Refund, refundByTier } from '../../trade/money/refunds.js';
import { formatDay } from '../../trade/text/format.js';
import { cancelCharge } from '../accounts/charges/charges.js';
import { refundInMoney } from '../accounts/payments/refunds.js';
import { lockCharges } from '../accounts/queries.js';
import type { Course } from '../courses/contract.js';
import { hasBegun, lockCourse } from '../courses/service.js';
import { getTermsOfSale } from '../courses/terms-of-sale.js';
import type { Studio } from '../settings/contract.js';
import { getStudio } from '../settings/service.js';
import type { Booking, Cancellation, NewCancellation } from './contract.js';
import { methodMissing } from './further-refund.js';
import { noteGivenUp } from './given-up-places.js';
import { writeCancellation } from './letters.js';
import { getBooking } from './read-bookings.js';
import { filledAgainTerm } from './refund-terms.js';

/**
 * Gives all places of a booking up, and pays back what the course's refund policy says by its tiers or the owner decides: the last paid
 * first, and on a voucher what one paid.
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
  const { explanation, ...refund } = await refundOf(tx, now, before, course, wanted);
  const { refundMinor, furtherMinor } = refund;
  const moneyMinor = await refundInMoney(tx, chargeId, refundMinor);
  if (moneyMinor > 0 && wanted.method === undefined) throw methodMissing(refundMinor, moneyMinor);

  const { reason, method } = wanted;
  await cancelCharge(tx, now, chargeId, { refundMinor, method, reason, explanation });
  await tx.booking.update({ where: { id }, data: { cancelledAt: now, cancelledBecause: reason } });
  // what was only held for its deposit was never theirs, and after the start nobody can fill a place
  if (before.state === 'confirmed' && !hasBegun(course, now)) await noteGivenUp(tx, course, before, furtherMinor);
  if (refundMinor === 0) await writeCancellation(tx, now, before, explanation);
  return { booking: await getBooking(tx, id), ...refund, onVoucherMinor: refundMinor - moneyMinor };
}

function refuseTooLate({ state, cancelledBecause }: Booking, { completedOn }: Course, { locale }: Studio): void {
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

/**
 * What goes back now and why, what goes back besides once all its places are filled again, and what the letter says of both.
 */
type Decided = Refund & { furtherMinor: number; explanation?: string };

async function refundOf(
  tx: Transaction,
  now: Date,
  before: Booking,
  course: Course,
  wanted: NewCancellation,
): Promise<Decided> {
  const studio = await getStudio(tx);
  const { paidMinor, state } = before;
  if (wanted.refundMinor !== undefined) return decided(paidMinor, wanted.refundMinor, studio);
  const { refundPolicy: policy } = await getTermsOfSale(tx, course.id);
  const daysBefore = noticeDays(now, before, course, studio, wanted.asOf);
  const refund = refundByTier({ paidMinor, daysBefore, tiers: policy.tiers });
  const canFill = state === 'confirmed' && !hasBegun(course, now);
  const furtherMinor = canFill ? furtherRefundMinor(refund.keptMinor, policy.refilledFeeMinor) : 0;
  if (!canFill || furtherMinor === 0) return { ...refund, furtherMinor, explanation: refund.because };
  return { ...refund, furtherMinor, explanation: `${refund.because} ${filledAgainTerm(policy, studio)}` };
}

function decided(paidMinor: number, backMinor: number, { currency, locale }: Studio): Decided {
  if (backMinor > paidMinor)
    throw new Problem(
      'more-than-owed',
      `Only ${formatMoneyInText(paidMinor, currency, locale)} was paid; no more can be refunded.`,
      { paidMinor },
    );
  const because = 'The owner decided this.';
  return { refundMinor: backMinor, keptMinor: paidMinor - backMinor, because, furtherMinor: 0 };
}

/** Whole days from the day of notice to the first session; below zero once that has begun, when only the owner can decide. */
function noticeDays(now: Date, before: Booking, course: Course, { timeZone, locale }: Studio, asOf?: string): number {
  const today = localDay(now, timeZone);
  const noticeOn = asOf ?? today;
  const bookedOn = localDay(new Date(before.bookedAt), timeZone);
  if (noticeOn > today || noticeOn < bookedOn) {
    const [booked, now] = [bookedOn, today].map((day) => formatDay(day, locale));
    throw new Problem(
      'invalid-request',
      `The day of notice must be between the booking, ${booked}, and today, ${now}.`,
      {
        errors: [{ pointer: '#/asOf', detail: `must be between ${booked} and ${now}` }],
      },
    );
  }
  const days = daysBetween(noticeOn, localDay(new Date(course.sessions[0]?.startsAt ?? now), timeZone));
  return noticeOn === today && hasBegun(course, now) ? Math.min(days, -1) : days;
}
