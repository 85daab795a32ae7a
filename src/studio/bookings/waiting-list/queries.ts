import { Prisma } from '../../../database/generated/client.js';
import type { Transaction } from '../../../database/transaction.js';

export type LapsedOffer = { id: string; courseId: string };

/** Offers that nobody answered in time, of one course or of all, in the order in which they ran out. */
export async function listLapsedOffers(tx: Transaction, now: Date, courseId?: string): Promise<LapsedOffer[]> {
  const of = courseId ? Prisma.sql`course_id = ${courseId}::uuid` : Prisma.sql`true`;
  return tx.$queryRaw<LapsedOffer[]>`
    SELECT id::text, course_id::text AS "courseId" FROM waiting_entry
     WHERE offered_at IS NOT NULL AND ended_at IS NULL AND offered_until <= ${now} AND ${of} ORDER BY offered_until, id`;
}
