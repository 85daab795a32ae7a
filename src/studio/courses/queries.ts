import { type FoundPage, findPage, within } from '../../database/find-page.js';
import { Prisma } from '../../database/generated/client.js';
import type { Transaction } from '../../database/transaction.js';
import type { Hazard } from '../../documents/hazard-words.js';
import { searchPatterns } from '../../trade/text/search-text.js';
import type { CourseQuery } from './contract.js';

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

const goesOnAt = (now: Date) =>
  Prisma.sql`c.id IN (SELECT course_id FROM session WHERE ends_at > ${now} AND cancelled_at IS NULL)`;
const isOpen = Prisma.sql`c.completed_on IS NULL AND c.cancelled_at IS NULL`;
/** A first session that is cancelled begins nothing. */
const hasBegun = (now: Date) => Prisma.sql`
  EXISTS (SELECT FROM session b WHERE b.course_id = c.id AND b.starts_at <= ${now} AND b.cancelled_at IS NULL)`;
const isAhead = (now: Date) => Prisma.sql`${isOpen} AND ${goesOnAt(now)}`;

const stateIs = (state: NonNullable<CourseQuery['state']>, now: Date): Prisma.Sql => {
  const goesOn = goesOnAt(now);
  switch (state) {
    case 'coming':
      return Prisma.sql`${isOpen} AND ${goesOn} AND NOT ${hasBegun(now)}`;
    case 'running':
      return Prisma.sql`${isOpen} AND ${goesOn} AND ${hasBegun(now)}`;
    case 'over':
      return Prisma.sql`${isOpen} AND NOT ${goesOn}`;
    case 'completed':
      return Prisma.sql`c.completed_on IS NOT NULL`;
    case 'cancelled':
      return Prisma.sql`c.cancelled_at IS NOT NULL`;
  }
};

/** Of a course `c`: it is neither cancelled nor completed, and none of its sessions has begun. */
export const isComing = (now: Date): Prisma.Sql => stateIs('coming', now);

const ORDERS = {
  oldest: {},
  firstDay: { order: { by: Prisma.sql`f.starts_at`, as: 'timestamptz' } },
  firstDayLast: { order: { by: Prisma.sql`f.starts_at`, as: 'timestamptz', isDown: true } },
  nextDay: { order: { by: Prisma.sql`f.starts_at`, as: 'timestamptz' } },
  nextDayLast: { order: { by: Prisma.sql`f.starts_at`, as: 'timestamptz', isDown: true } },
} as const;

/**
 * Of a course `c` the session `f` that its place in the list goes by: a cancelled one counts only where all are. Where they
 * are in the order of their sessions it is asked of each session, so a page is read off those and the rest is left alone; else of each
 * course that is found.
 */
const sessionFor = (order: CourseQuery['order'], now: Date) => {
  const isOver = order.startsWith('next') ? Prisma.sql`s.ends_at <= ${now},` : Prisma.empty;
  if (order === 'oldest')
    return Prisma.sql`LATERAL (
      SELECT s.starts_at FROM session s WHERE s.course_id = c.id ORDER BY s.cancelled_at IS NOT NULL, s.ordinal LIMIT 1) f ON true`;
  return Prisma.sql`session f ON f.course_id = c.id AND f.id = (
    SELECT s.id FROM session s WHERE s.course_id = f.course_id
     ORDER BY s.cancelled_at IS NOT NULL, ${isOver} s.ordinal LIMIT 1)`;
};

/** Each word typed is in the title or in the name of the plan. Every course has a first session. */
export function findCourses(
  tx: Transaction,
  now: Date,
  query: CourseQuery,
  days: { from?: Date; before?: Date },
): Promise<FoundPage> {
  const { q, planId, state, is, order } = query;
  const words = q === undefined ? [] : searchPatterns(q);
  return findPage(
    tx,
    {
      from: Prisma.sql`course c JOIN ${sessionFor(order, now)}`,
      id: Prisma.sql`c.id`,
      where: [
        ...words.map((word) => Prisma.sql`c.id IN (${courseMatches(word)})`),
        q !== undefined && words.length === 0 && Prisma.sql`false`,
        planId !== undefined && Prisma.sql`c.plan_id = ${planId}::uuid`,
        state && stateIs(state, now),
        is === 'ahead' && isAhead(now),
        is === 'past' && Prisma.sql`NOT (${isAhead(now)})`,
        is === 'begun' && Prisma.sql`f.starts_at <= ${now} AND c.cancelled_at IS NULL AND ${hasBegun(now)}`,
        (days.from ?? days.before) !== undefined &&
          Prisma.sql`c.id IN (SELECT s.course_id FROM session s WHERE ${within(Prisma.sql`s.starts_at`, days)})`,
      ],
      ...ORDERS[order],
    },
    query,
  );
}

/** The courses in whose title, or in the name of whose plan, a word typed is found; for use as `x IN (...)`. */
export const courseMatches = (pattern: string): Prisma.Sql => Prisma.sql`
  SELECT id FROM course WHERE search LIKE ${pattern}
  UNION ALL SELECT k.id FROM course k JOIN course_plan n ON n.id = k.plan_id WHERE search_text(n.name) LIKE ${pattern}`;

/** Of a course's places: those booked, held or offered, and those gone in the session that has most who make one up there. */
export type PlacesTaken = { taken: number; madeUp: number };

/** What can still be sold of a course; not below 0, as its places may have been fewer than were offered. */
export const placesLeftOf = (places: number, { taken, madeUp }: PlacesTaken = { taken: 0, madeUp: 0 }): number =>
  Math.max(0, places - taken - madeUp);

/** The places of each of these courses that can't be sold any more. */
export async function placesTaken(tx: Transaction, courseIds: readonly string[]): Promise<Map<string, PlacesTaken>> {
  if (courseIds.length === 0) return new Map();
  const rows = await tx.$queryRaw<({ id: string } & PlacesTaken)[]>`
    SELECT t.course_id::text AS id, sum(t.places)::int AS taken, sum(t.made_up)::int AS "madeUp" FROM (
      SELECT b.course_id, 1 AS places, 0 AS made_up FROM booking b JOIN place p ON p.booking_id = b.id
       WHERE b.cancelled_at IS NULL AND b.course_id IN (${uuids(courseIds)})
      UNION ALL
      SELECT b.course_id, b.unnamed, 0 FROM booking b
       WHERE b.cancelled_at IS NULL AND b.unnamed > 0 AND b.course_id IN (${uuids(courseIds)})
      UNION ALL
      SELECT w.course_id, w.places, 0 FROM waiting_entry w
       WHERE w.offered_at IS NOT NULL AND w.ended_at IS NULL AND w.course_id IN (${uuids(courseIds)})
      UNION ALL
      SELECT c.id, 0, made_up_in(c.id) FROM course c WHERE c.id IN (${uuids(courseIds)})
    ) t GROUP BY t.course_id`;
  return new Map(rows.map(({ id, ...places }) => [id, places]));
}

/** How many places of one course can't be sold any more. Judge it under the course's lock. */
export async function countTaken(tx: Transaction, courseId: string): Promise<number> {
  const found = (await placesTaken(tx, [courseId])).get(courseId);
  return found ? found.taken + found.madeUp : 0;
}

const uuids = (ids: readonly string[]) => Prisma.join(ids.map((id) => Prisma.sql`${id}::uuid`));

export type PlanMaterial = Hazard & { planId: string };

/** The clays and glazes of each plan, each once, in the order of its pieces, then all else that a student uses. */
export async function listPlanMaterials(tx: Transaction, planIds: readonly string[]): Promise<PlanMaterial[]> {
  return tx.$queryRaw`
    SELECT used.plan_id::text AS "planId", m.name, m.kind::text AS kind, 
           CASE WHEN m.hazard_note IS NOT NULL
                THEN json_build_object('text', m.hazard_note, 'statedOn', m.hazard_note_on) END AS warning FROM (
     SELECT plan_id, material_id, min(at) AS at FROM (
      SELECT plan_id, clay_id AS material_id, ordinal * 2 AS at FROM plan_piece WHERE clay_id IS NOT NULL
      UNION ALL SELECT plan_id, glaze_id, ordinal * 2 + 1 FROM plan_piece WHERE glaze_id IS NOT NULL
      UNION ALL SELECT plan_id, material_id, 1000000 FROM plan_material) each
       WHERE plan_id = ANY(${planIds}::uuid[]) GROUP BY plan_id, material_id) used
     JOIN material m ON m.id = used.material_id ORDER BY used.plan_id, used.at, used.material_id`;
}

/** Makes room in the order of a course's sessions: those from this one on come one later. In two steps, as no two may have one number meanwhile. */
export async function shiftSessions(tx: Transaction, courseId: string, from: number): Promise<void> {
  const ofCourse = Prisma.sql`course_id = ${courseId}::uuid`;
  await tx.$executeRaw`UPDATE session SET ordinal = ordinal + 1000 WHERE ${ofCourse} AND ordinal >= ${from}`;
  await tx.$executeRaw`UPDATE session SET ordinal = ordinal - 999 WHERE ${ofCourse} AND ordinal > 1000`;
}
