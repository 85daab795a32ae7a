import type { Transaction } from '../../database/transaction.js';
import { chargeStates, lockCharges } from '../accounts/queries.js';
import { cancelCharge } from '../accounts/service.js';
import { lockCourse } from '../courses/service.js';

const BECAUSE = 'deposit not paid in time';

type Hold = { id: string; courseId: string; chargeId: string; places: number };

/**
 * Provisional bookings whose hold has run out, of one course or of all. Not among them, as the owner has to decide there: those
 * on which something was paid, since a job can't hand money back; and those of a course that has begun, where no place can be
 * sold any more and somebody who came would no longer be asked for the price.
 */
export async function lapsedHolds(tx: Transaction, now: Date, courseId?: string): Promise<Hold[]> {
  const rows = await tx.booking.findMany({
    where: {
      ...(courseId ? { courseId } : {}),
      cancelledAt: null,
      depositMinor: { gt: 0 },
      heldUntil: { lte: now },
      course: { sessions: { none: { startsAt: { lte: now } } } },
    },
    include: { _count: { select: { places: true } } },
    orderBy: { id: 'asc' },
  });
  const states = await chargeStates(
    tx,
    rows.map(({ chargeId }) => chargeId),
  );
  return rows
    .filter(({ chargeId }) => states.get(chargeId)?.paidMinor === 0)
    .map(({ id, courseId, chargeId, _count }) => ({ id, courseId, chargeId, places: _count.places }));
}

/**
 * Releases the holds of a course that have run out: cancels them and asks for nothing more. A payment that comes at the same
 * moment either is first, and the booking stays, or finds nothing owed.
 *
 * @returns how many bookings were released
 */
export async function releaseExpired(tx: Transaction, now: Date, courseId: string): Promise<number> {
  const lapsed = await lapsedHolds(tx, now, courseId);
  if (lapsed.length === 0) return 0;
  await lockCourse(tx, courseId);
  await lockCharges(
    tx,
    lapsed.map(({ chargeId }) => chargeId),
  );
  const holds = await lapsedHolds(tx, now, courseId); // again: what was paid while the locks were waited for stays booked
  for (const { id, chargeId } of holds) {
    await cancelCharge(tx, now, chargeId, { refundMinor: 0, method: 'transfer', reason: BECAUSE });
    await tx.booking.update({ where: { id }, data: { cancelledAt: now, cancelledBecause: BECAUSE } });
  }
  return holds.length;
}
