import type { Transaction } from '../../database/transaction.js';
import { Problem } from '../../problems.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { creditAndRefund } from '../accounts/charges/charges.js';
import { refundInMoney } from '../accounts/payments/refunds.js';
import { lockCharges } from '../accounts/queries.js';
import { lockCourse } from '../courses/service.js';
import { getStudio } from '../settings/service.js';
import type { FurtherRefund, NewFurtherRefund, RefundDue } from './contract.js';
import { unpaidRefills } from './queries.js';
import { getBooking } from './read-bookings.js';

const BECAUSE = 'the place was filled again';

/**
 * Pays back what fell due since places that were given up are filled again, with its VAT and a credit note: by `method`, or on the
 * voucher that it came from. Each is paid back once.
 *
 * @throws Problem nothing-owed where nothing is due, invalid-request where money goes back and nobody says how
 */
export async function payFurtherRefund(
  tx: Transaction,
  now: Date,
  bookingId: string,
  { method }: NewFurtherRefund,
): Promise<FurtherRefund> {
  const { courseId, chargeId } = await getBooking(tx, bookingId);
  await lockCourse(tx, courseId);
  await lockCharges(tx, [chargeId]);
  const refills = await tx.placeRefill.findMany({ where: { bookingId, amountMinor: { gt: 0 }, refund: null } });
  const refundMinor = refills.reduce((sum, { amountMinor }) => sum + amountMinor, 0);
  if (refundMinor === 0)
    throw new Problem('nothing-owed', 'No refund is due for this booking. It is once its place is filled again.');
  const moneyMinor = await refundInMoney(tx, chargeId, refundMinor);
  if (moneyMinor > 0 && method === undefined) throw methodMissing(refundMinor, moneyMinor);
  // of a booking that goes on more may be unpaid, which is for its other places
  const creditId = await creditAndRefund(tx, now, chargeId, { unpaidMinor: 0, refundMinor, method, reason: BECAUSE });
  if (creditId === null) throw new Problem('not-balanced', 'Nothing is left to credit.');
  await tx.refillRefund.createMany({ data: refills.map(({ id }) => ({ refillId: id, creditId })) });
  // what was kept of a place that was cancelled no longer has to be paid for the others to stay confirmed
  await tx.booking.updateMany({
    where: { id: bookingId, cancelledAt: null, depositMinor: { gte: refundMinor } },
    data: { depositMinor: { decrement: refundMinor } },
  });
  return { booking: await getBooking(tx, bookingId), refundMinor, onVoucherMinor: refundMinor - moneyMinor };
}

export const methodMissing = (refundMinor: number, moneyMinor: number) =>
  new Problem('invalid-request', 'A refund is due. Say how it is paid: in cash, by card or by transfer.', {
    errors: [{ pointer: '#/method', detail: 'is required: cash, card or transfer' }],
    refundMinor,
    moneyMinor,
  });

/** To whom something is to be paid back since their places are filled again, whoever has waited longest first. */
export async function listRefundsDue(tx: Transaction): Promise<RefundDue[]> {
  const rows = await unpaidRefills(tx);
  if (rows.length === 0) return [];
  const { timeZone } = await getStudio(tx);
  return rows.map(({ since, ...due }) => ({ ...due, since: localDay(since, timeZone) }));
}
