import { Prisma } from '../../../database/generated/client.js';
import type { Transaction } from '../../../database/transaction.js';

type PlaceRow = {
  sessionId: string;
  courseId: string;
  courseTitle: string;
  startsAt: Date;
  endsAt: Date;
  roomName: string;
  placesLeft: number;
  isSamePlan: boolean;
};

/** What is left of a session's places once its course's bookings, offers and those who make one up there have theirs. */
const LEFT = Prisma.sql`
  c.places - (SELECT count(*) FROM booking b JOIN place p ON p.booking_id = b.id WHERE b.course_id = c.id AND b.cancelled_at IS NULL)
           - (SELECT coalesce(sum(w.places), 0) FROM waiting_entry w
               WHERE w.course_id = c.id AND w.offered_at IS NOT NULL AND w.ended_at IS NULL)
           - (SELECT count(*) FROM make_up m WHERE m.session_id = s.id AND m.ended_at IS NULL)`;

/**
 * The sessions to come of other courses that have the purpose of this one and a place left: first the same session of the same plan. They
 * are found by the sessions to come, which are few.
 */
export async function listMakeUpPlaces(
  tx: Transaction,
  now: Date,
  missed: { courseId: string; planId: string; ordinal: number; purpose: string },
  limit: number,
): Promise<PlaceRow[]> {
  return tx.$queryRaw<PlaceRow[]>`
    SELECT * FROM (
      SELECT s.id::text AS "sessionId", c.id::text AS "courseId", c.title AS "courseTitle", s.starts_at AS "startsAt",
             s.ends_at AS "endsAt", r.name AS "roomName", (${LEFT})::integer AS "placesLeft",
             c.plan_id = ${missed.planId}::uuid AND s.ordinal = ${missed.ordinal} AS "isSamePlan"
        FROM session s JOIN course c ON c.id = s.course_id JOIN course_plan n ON n.id = c.plan_id JOIN room r ON r.id = s.room_id
       WHERE s.starts_at > ${now} AND s.cancelled_at IS NULL AND c.completed_on IS NULL AND c.cancelled_at IS NULL
         AND n.kind = 'course' AND c.id <> ${missed.courseId}::uuid AND s.purpose::text = ${missed.purpose}) each_session
     WHERE "placesLeft" > 0 ORDER BY "isSamePlan" DESC, "startsAt", "sessionId" LIMIT ${limit}`;
}

/** How many places are left in one session. Judge it under its course's lock. */
export async function placesLeftIn(tx: Transaction, sessionId: string): Promise<number> {
  const [row] = await tx.$queryRaw<{ left: number }[]>`
    SELECT (${LEFT})::integer AS left FROM session s JOIN course c ON c.id = s.course_id WHERE s.id = ${sessionId}::uuid`;
  return row?.left ?? 0;
}
