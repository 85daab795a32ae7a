import type { Transaction } from '../../database/transaction.js';
import { recordSupply } from '../accounts/charges/charges.js';
import { lockCharges } from '../accounts/queries.js';
import { completeCourse } from '../courses/service.js';
import type { Completion } from './contract.js';

/**
 * Notes that a course is over: what its bookings were billed for in advance has now been supplied, and becomes income. A booking
 * that was never paid counts too, as the place was kept for it: cancel it first where nothing is to be asked.
 */
export async function completeAndNotify(tx: Transaction, now: Date, courseId: string): Promise<Completion> {
  const completedOn = await completeCourse(tx, now, courseId);
  const rows = await tx.booking.findMany({ where: { courseId, cancelledAt: null }, orderBy: { chargeId: 'asc' } });
  const chargeIds = rows.map(({ chargeId }) => chargeId);
  await lockCharges(tx, chargeIds);
  for (const chargeId of chargeIds) await recordSupply(tx, now, chargeId);
  return { courseId, completedOn, supplied: chargeIds.length };
}
