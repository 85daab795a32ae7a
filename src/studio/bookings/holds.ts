import type { Transaction } from '../../database/transaction.js';
import { cancelCharge } from '../accounts/charges/charges.js';
import { lockCharges } from '../accounts/queries.js';
import { lockCourse } from '../courses/service.js';
import { writeLapse } from './letters.js';
import { listLapsedHolds } from './queries.js';
import { getBooking } from './read-bookings.js';

const BECAUSE = 'deposit not paid in time';

/**
 * Releases the holds of a course that have run out: cancels them and asks for nothing more. A payment that comes at the same
 * moment either is first, and the booking stays, or finds nothing owed.
 *
 * @returns how many bookings were released
 */
export async function releaseExpired(tx: Transaction, now: Date, courseId: string): Promise<number> {
  const lapsed = await listLapsedHolds(tx, now, courseId);
  if (lapsed.length === 0) return 0;
  const course = await lockCourse(tx, courseId);
  await lockCharges(
    tx,
    lapsed.map(({ chargeId }) => chargeId),
  );
  const holds = await listLapsedHolds(tx, now, courseId); // again: what was paid while the locks were waited for stays booked
  for (const { id, chargeId } of holds) {
    const held = await getBooking(tx, id);
    await cancelCharge(tx, now, chargeId, { refundMinor: 0, method: 'transfer', reason: BECAUSE });
    await tx.booking.update({ where: { id }, data: { cancelledAt: now, cancelledBecause: BECAUSE } });
    await writeLapse(tx, now, held, course);
  }
  return holds.length;
}
