import type { Transaction } from '../../database/transaction.js';
import type { NewPayment, Payment } from '../accounts/contract.js';
import { takePayment } from '../accounts/payments/payments.js';
import { getChargeStates } from '../accounts/queries.js';
import { lockCourseRow } from '../courses/queries.js';
import { getCourse, hasBegun } from '../courses/service.js';
import { fillPlacesGivenUp } from './given-up-places.js';
import { writeConfirmation } from './letters.js';
import { listToConfirm } from './queries.js';
import { getBooking } from './read-bookings.js';

/**
 * Takes a payment, and confirms the bookings whose deposit it completes, with a letter for each. Courses are locked before the charges,
 * as where a booking is made or cancelled.
 */
export async function payForBookings(tx: Transaction, now: Date, wanted: NewPayment): Promise<Payment> {
  const bookings = await listToConfirm(
    tx,
    wanted.for.map(({ chargeId }) => chargeId),
  );
  for (const { courseId } of bookings) await lockCourseRow(tx, courseId);
  const payment = await takePayment(tx, now, wanted);
  const states = await getChargeStates(
    tx,
    bookings.map(({ chargeId }) => chargeId),
  );
  const paidNowMinor = new Map(wanted.for.map(({ chargeId, amountMinor }) => [chargeId, amountMinor]));
  for (const { id, courseId, chargeId, depositMinor } of bookings) {
    const paidMinor = states.get(chargeId)?.paidMinor ?? 0;
    const wasConfirmed = paidMinor - (paidNowMinor.get(chargeId) ?? 0) >= depositMinor;
    if (wasConfirmed || paidMinor < depositMinor) continue;
    const course = await getCourse(tx, courseId);
    if (hasBegun(course, now)) continue;
    await writeConfirmation(tx, now, await getBooking(tx, id), course);
    await fillPlacesGivenUp(tx, now, course);
  }
  return payment;
}
