import type { Transaction } from '../../database/transaction.js';
import type { NewReversal } from '../accounts/contract.js';
import { reversePayment } from '../accounts/payments/reversal.js';
import { getCourse, hasBegun, lockCourse } from '../courses/service.js';
import { momentInWords } from '../courses/session-dates.js';
import { getStudio } from '../settings/service.js';
import type { Booking, PaymentReversal } from './contract.js';
import { holdEnd } from './hold-end.js';
import { getBooking } from './read-bookings.js';

/**
 * Takes a payment back, and its bookings to what they were before it. A place that it had confirmed is held again; since its hold has
 * often run out by then, it gets a new one, so that nobody loses a place by the studio's slip. Courses are locked before the charges.
 */
export async function reverseBookingPayment(
  tx: Transaction,
  now: Date,
  paymentId: string,
  wanted: NewReversal,
): Promise<PaymentReversal> {
  const rows = await tx.booking.findMany({
    where: { charge: { allocations: { some: { paymentId } } } },
    orderBy: { courseId: 'asc' },
    select: { id: true, courseId: true },
  });
  for (const { courseId } of rows) await lockCourse(tx, courseId);
  const before = new Map<string, Booking['state']>();
  for (const { id } of rows) before.set(id, (await getBooking(tx, id)).state);
  const reversal = await reversePayment(tx, now, paymentId, wanted);
  const bookings: PaymentReversal['bookings'] = [];
  for (const { id } of rows) bookings.push(await backToBefore(tx, now, id, before.get(id)));
  return { ...reversal, bookings };
}

async function backToBefore(
  tx: Transaction,
  now: Date,
  id: string,
  before: Booking['state'] | undefined,
): Promise<PaymentReversal['bookings'][number]> {
  const { courseId, state, heldUntil } = await getBooking(tx, id);
  const joined = await getCourse(tx, courseId);
  const tell = (said: string) => ({ bookingId: id, courseTitle: joined.title, state, said });
  if (state === 'cancelled')
    return tell('It was cancelled before and stays cancelled; what was kept of it is owed again.');
  if (state === 'confirmed') return tell('The place stays confirmed: its deposit is still covered.');
  if (hasBegun(joined, now)) return tell('The course has begun, so the place stays, and its price is owed.');
  if (before !== 'confirmed') return tell('The place was held, not confirmed, and stays so.');
  const begins = Date.parse(joined.sessions[0]?.startsAt ?? now.toISOString());
  const until = new Date(
    Math.min(begins, Math.max(holdEnd(joined, now).getTime(), Date.parse(heldUntil ?? now.toISOString()))),
  );
  await tx.booking.update({ where: { id }, data: { heldUntil: until } });
  const words = momentInWords(until, await getStudio(tx));
  return tell(
    `The place is held again until ${words}, as before the payment. Without its deposit it is released then.`,
  );
}
