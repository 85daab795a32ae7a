import type { Transaction } from '../../database/transaction.js';
import { getChargeStates } from '../accounts/queries.js';

type Hold = { id: string; courseId: string; chargeId: string; places: number };

/**
 * Provisional bookings whose hold has run out, of one course or of all. Not among them, as the owner has to decide there: those
 * on which something was paid, since a job can't hand money back; and those of a course that has begun, where no place can be
 * sold any more and somebody who came would no longer be asked for the price.
 */
export async function listLapsedHolds(tx: Transaction, now: Date, courseId?: string): Promise<Hold[]> {
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
  const states = await getChargeStates(
    tx,
    rows.map(({ chargeId }) => chargeId),
  );
  return rows
    .filter(({ chargeId }) => states.get(chargeId)?.paidMinor === 0)
    .map(({ id, courseId, chargeId, _count }) => ({ id, courseId, chargeId, places: _count.places }));
}
