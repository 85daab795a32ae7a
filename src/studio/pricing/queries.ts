import type { Transaction } from '../../database/transaction.js';

/**
 * The courses that had begun before an instant, and how many places were booked when it was decided whether they are held. That is when
 * the first session began; a course that nobody stood on any more had been called off, and counts with what was cancelled on the last
 * day (in the studio's time zone) on which anything was, as the owner cancels all bookings then. Left out are holds that ran out
 * unpaid, and what was booked later; and private sessions, which one group books or nobody.
 */
export async function listPastCourses(
  tx: Transaction,
  before: Date,
  timeZone: string,
): Promise<{ planId: string; kind: 'course' | 'openStudio'; places: number; booked: number }[]> {
  return tx.$queryRaw`
    WITH begun AS (
      SELECT c.id, c.plan_id, p.kind, c.places, min(s.starts_at) AS begins_at
        FROM course c JOIN course_plan p ON p.id = c.plan_id JOIN session s ON s.course_id = c.id
       WHERE p.kind <> 'private' GROUP BY c.id, p.kind HAVING min(s.starts_at) < ${before}
    ), booked AS (
      SELECT g.id AS course_id, b.cancelled_at IS NULL OR b.cancelled_at >= g.begins_at AS stood,
             (b.cancelled_at AT TIME ZONE ${timeZone})::date AS cancelled_on,
             max((b.cancelled_at AT TIME ZONE ${timeZone})::date) OVER (PARTITION BY g.id) AS last_cancelled_on,
             (SELECT count(*) FROM place p WHERE p.booking_id = b.id) AS places
        FROM begun g JOIN booking b ON b.course_id = g.id
       WHERE b.booked_at < g.begins_at
         AND (b.cancelled_at IS NULL OR b.cancelled_at >= g.begins_at OR b.cancelled_at < b.held_until
              OR b.deposit_minor = 0 OR EXISTS (SELECT 1 FROM allocation a WHERE a.charge_id = b.charge_id))
    )
    SELECT g.plan_id AS "planId", g.kind::text, g.places,
           least(g.places, coalesce(
             sum(k.places) FILTER (WHERE k.stood),
             sum(k.places) FILTER (WHERE k.cancelled_on = k.last_cancelled_on), 0))::float8 AS booked
      FROM begun g LEFT JOIN booked k ON k.course_id = g.id
     GROUP BY g.id, g.plan_id, g.kind, g.places, g.begins_at ORDER BY g.begins_at, g.id`;
}
