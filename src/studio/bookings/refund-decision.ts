import type { Transaction } from '../../database/transaction.js';
import { Problem } from '../../problems.js';
import { daysBetween, localDay } from '../../trade/calendar/calendar.js';
import { formatMoneyInText } from '../../trade/money/money.js';
import { furtherRefundMinor, type Refund, refundByTier } from '../../trade/money/refunds.js';
import { formatDay } from '../../trade/text/format.js';
import { refundInMoney } from '../accounts/payments/refunds.js';
import type { Course } from '../courses/contract.js';
import { hasBegun } from '../courses/service.js';
import { getTermsOfSale } from '../courses/terms-of-sale.js';
import type { Studio } from '../settings/contract.js';
import { getStudio } from '../settings/service.js';
import { type PricedPlaces, pricePlaces } from './cancelled-prices.js';
import type { Booking, NewCancellation } from './contract.js';
import { methodMissing } from './further-refund.js';
import { filledAgainTerm } from './refund-terms.js';

/**
 * What goes back now and why, what goes back besides once all its places are filled again, and what the letter says of both.
 */
type Decided = Refund & { furtherMinor: number; explanation?: string };

/** What the places that are cancelled cost, what goes back of it and why, and how much of that is paid out, not put on a voucher. */
export type Refunding = Decided & { priced: PricedPlaces; moneyMinor: number };

/** Decides it for these places. @throws Problem where money goes back and nobody said how */
export async function decideRefund(
  tx: Transaction,
  now: Date,
  before: Booking,
  course: Course,
  wanted: NewCancellation,
  leaving: Booking['attendees'],
): Promise<Refunding> {
  const priced = await pricePlaces(tx, before, course, leaving);
  const refund = await refundOf(tx, now, before, course, wanted, priced.paidMinor);
  const moneyMinor = await refundInMoney(tx, before.chargeId, refund.refundMinor);
  if (moneyMinor > 0 && wanted.method === undefined) throw methodMissing(refund.refundMinor, moneyMinor);
  return { ...refund, priced, moneyMinor };
}

/** What goes back of what was paid for the places that are cancelled: by the tiers of the course's policy, or as the owner decides. */
async function refundOf(
  tx: Transaction,
  now: Date,
  before: Booking,
  course: Course,
  wanted: NewCancellation,
  paidMinor: number,
): Promise<Decided> {
  const studio = await getStudio(tx);
  const { id: bookingId, state } = before;
  if (wanted.refundMinor !== undefined) return decided(paidMinor, wanted.refundMinor, studio);
  const { refundPolicy: policy } = await getTermsOfSale(tx, course.id);
  const daysBefore = noticeDays(now, before, course, studio, wanted.asOf);
  const refund = refundByTier({ paidMinor, daysBefore, tiers: policy.tiers });
  const canFill = state === 'confirmed' && !hasBegun(course, now);
  // the fee is kept once for a booking, however often places of it are cancelled
  const feeMinor = (await tx.givenUp.count({ where: { bookingId } })) > 0 ? 0 : policy.refilledFeeMinor;
  const furtherMinor = canFill ? furtherRefundMinor(refund.keptMinor, feeMinor) : 0;
  if (!canFill || furtherMinor === 0) return { ...refund, furtherMinor, explanation: refund.because };
  const term = filledAgainTerm({ ...policy, refilledFeeMinor: feeMinor }, studio);
  return { ...refund, furtherMinor, explanation: `${refund.because} ${term}` };
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
