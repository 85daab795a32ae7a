import { Prisma } from '../../../database/generated/client.js';
import type { Transaction } from '../../../database/transaction.js';

/** Places of a course that are booked, held or offered. Judge it under the course's lock. */
export async function countTaken(tx: Transaction, courseId: string): Promise<number> {
  const [row] = await tx.$queryRaw<
    { taken: number }[]
  >`SELECT ${takenOf(Prisma.sql`${courseId}::uuid`)}::integer AS taken`;
  return row?.taken ?? 0;
}

const takenOf = (courseId: Prisma.Sql) => Prisma.sql`(
  (SELECT count(*) FROM booking b JOIN place p ON p.booking_id = b.id WHERE b.course_id = ${courseId} AND b.cancelled_at IS NULL)
  + (SELECT coalesce(sum(w.places), 0) FROM waiting_entry w
      WHERE w.course_id = ${courseId} AND w.offered_at IS NOT NULL AND w.ended_at IS NULL))`;

export type LapsedOffer = { id: string; courseId: string };

/** Offers that nobody answered in time, of one course or of all, in the order in which they ran out. */
export async function listLapsedOffers(tx: Transaction, now: Date, courseId?: string): Promise<LapsedOffer[]> {
  const of = courseId ? Prisma.sql`course_id = ${courseId}::uuid` : Prisma.sql`true`;
  return tx.$queryRaw<LapsedOffer[]>`
    SELECT id::text, course_id::text AS "courseId" FROM waiting_entry
     WHERE offered_at IS NOT NULL AND ended_at IS NULL AND offered_until <= ${now} AND ${of} ORDER BY offered_until, id`;
}
