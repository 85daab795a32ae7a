import type { Transaction } from '../../database/transaction.js';
import type { NewPayment, Payment } from '../accounts/contract.js';
import { takePayment } from '../accounts/payments/payments.js';
import { getCourse, hasBegun, lockCourse } from '../courses/service.js';
import { fillPlacesGivenUp } from './given-up-places.js';
import { writeConfirmation } from './letters.js';
import { getBooking } from './read-bookings.js';

/**
 * Takes a payment, and confirms the bookings whose deposit it completes, with a letter for each. Courses are locked before the charges,
 * as where a booking is made or cancelled.
 */
export async function payForBookings(tx: Transaction, now: Date, wanted: NewPayment): Promise<Payment> {
  const rows = await tx.booking.findMany({
    where: { chargeId: { in: wanted.for.map(({ chargeId }) => chargeId) }, depositMinor: { gt: 0 }, cancelledAt: null },
    orderBy: { courseId: 'asc' },
    select: { id: true, courseId: true },
  });
  for (const { courseId } of rows) await lockCourse(tx, courseId);
  const held = [];
  for (const { id } of rows) held.push(await getBooking(tx, id));
  const payment = await takePayment(tx, now, wanted);
  for (const { id, state } of held) {
    const paid = await getBooking(tx, id);
    if (state !== 'provisional' || paid.state !== 'confirmed') continue;
    const joined = await getCourse(tx, paid.courseId);
    if (hasBegun(joined, now)) continue;
    await writeConfirmation(tx, now, paid, joined);
    await fillPlacesGivenUp(tx, now, joined);
  }
  return payment;
}
