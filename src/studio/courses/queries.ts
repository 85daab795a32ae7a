import { Prisma } from '../../database/generated/client.js';
import type { Transaction } from '../../database/transaction.js';

// FOR NO KEY UPDATE keeps out whoever locks or changes the row, and lets in whoever only refers to it: with FOR UPDATE nobody could
// sign in or draw clay meanwhile, and two that refer to a row before they lock it would wait for each other.

/** Locks a course's row: until this transaction ends nobody else can count, take or give back its places. @returns whether there is one */
export async function lockCourseRow(tx: Transaction, courseId: string): Promise<boolean> {
  const rows = await tx.$queryRaw<unknown[]>`SELECT id FROM course WHERE id = ${courseId}::uuid FOR NO KEY UPDATE`;
  return rows.length > 0;
}

/** Locks a plan that is about to be corrected: of two who do so at once, one sees what the other wrote, and no course is made of it meanwhile. */
export async function lockPlan(tx: Transaction, planId: string): Promise<void> {
  await tx.$queryRaw`SELECT 1 FROM course_plan WHERE id = ${planId}::uuid FOR UPDATE`;
}

/** Keeps a plan as it is until this transaction ends; many may at once. Otherwise a course could get dates for sessions that its plan has no more. */
export async function keepPlan(tx: Transaction, planId: string): Promise<void> {
  await tx.$queryRaw`SELECT 1 FROM course_plan WHERE id = ${planId}::uuid FOR KEY SHARE`;
}

/**
 * Locks rooms, then tutors, each in id order, before a session is put into them: otherwise two courses made at once both see the
 * last benches.
 */
export async function lockRoomsAndTutors(tx: Transaction, roomIds: readonly string[], tutorIds: readonly string[]) {
  if (roomIds.length > 0)
    await tx.$queryRaw`SELECT id FROM room WHERE id IN (${uuids(roomIds)}) ORDER BY id FOR NO KEY UPDATE`;
  if (tutorIds.length > 0)
    await tx.$queryRaw`SELECT id FROM staff_member WHERE id IN (${uuids(tutorIds)}) ORDER BY id FOR NO KEY UPDATE`;
}

/** What a course drew of a material and has not given back, in base units and at what it cost. Read it under the material's lock. */
export async function outOf(
  tx: Transaction,
  courseId: string,
  materialId: string,
): Promise<{ quantity: number; costMinor: number }> {
  const drawn = await tx.stockMove.aggregate({
    where: { materialId, courseDraw: { courseId } },
    _sum: { quantity: true, costMinor: true },
  });
  const back = await tx.lot.aggregate({
    where: { materialId, courseReclaim: { courseId } },
    _sum: { quantity: true, costMinor: true },
  });
  const left = (of: 'quantity' | 'costMinor') => 0 - (drawn._sum[of] ?? 0) - (back._sum[of] ?? 0); // what leaves the shelf is below zero
  return { quantity: left('quantity'), costMinor: left('costMinor') };
}

const uuids = (ids: readonly string[]) => Prisma.join(ids.map((id) => Prisma.sql`${id}::uuid`));
