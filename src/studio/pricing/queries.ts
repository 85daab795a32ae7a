import { Prisma } from '../../database/generated/client.js';
import type { Transaction } from '../../database/transaction.js';

/**
 * How many places were booked on courses when it was decided whether they are held. That is when the first session began; a course that
 * nobody stood on any more had been called off, and counts with what was cancelled on the last day (in the studio's time zone) on which
 * anything was, as the owner cancels all bookings then. One that was cancelled as a whole since too few had booked was decided then, and
 * counts from then on with what was cancelled with it; one that was cancelled for something else says nothing of how many book, and is
 * left out. Left out are holds that ran out unpaid, and what was booked later.
 *
 * @param of which courses `c`
 */
export const enrolments = (of: Prisma.Sql): Prisma.Sql => Prisma.sql`
    WITH begun AS (
      SELECT c.id, c.plan_id, p.kind, c.places, c.cancelled_at IS NOT NULL AS is_cancelled,
             coalesce(c.cancelled_at, min(s.starts_at) FILTER (WHERE s.cancelled_at IS NULL)) AS begins_at
        FROM course c JOIN course_plan p ON p.id = c.plan_id JOIN session s ON s.course_id = c.id
       WHERE ${of} AND c.cancelled_for IS DISTINCT FROM 'other' GROUP BY c.id, p.kind
    ), booked AS (
      SELECT g.id AS course_id, b.cancelled_at IS NULL OR b.cancelled_at >= g.begins_at AS stood,
             (b.cancelled_at AT TIME ZONE home.time_zone)::date AS cancelled_on,
             max((b.cancelled_at AT TIME ZONE home.time_zone)::date) OVER (PARTITION BY g.id) AS last_cancelled_on,
             (SELECT count(*) FROM place p WHERE p.booking_id = b.id)
             + (SELECT count(*) FROM cancelled_place p WHERE p.booking_id = b.id AND p.cancelled_at >= g.begins_at) AS places
        FROM begun g JOIN booking b ON b.course_id = g.id CROSS JOIN studio home
       WHERE b.booked_at < g.begins_at
         AND (b.cancelled_at IS NULL OR b.cancelled_at >= g.begins_at OR b.cancelled_at < b.held_until
              OR b.deposit_minor = 0 OR EXISTS (SELECT 1 FROM allocation a WHERE a.charge_id = b.charge_id))
    )
    SELECT g.id AS course_id, g.plan_id, g.kind, g.places,
           least(g.places, coalesce(
             sum(k.places) FILTER (WHERE k.stood),
             sum(k.places) FILTER (WHERE k.cancelled_on = k.last_cancelled_on AND NOT g.is_cancelled), 0))::integer AS booked, g.begins_at
      FROM begun g LEFT JOIN booked k ON k.course_id = g.id
     GROUP BY g.id, g.plan_id, g.kind, g.places, g.begins_at`;

/** Begun before an instant, and not noted yet: those of the last days, and those of which something changed since. */
const notNoted = (before: Date): Prisma.Sql => Prisma.sql`
    NOT c.enrolment_noted AND c.cancelled_for IS DISTINCT FROM 'other'
    AND (c.cancelled_at < ${before} OR EXISTS (SELECT 1 FROM session s WHERE s.course_id = c.id AND s.starts_at < ${before}))`;

type NextCourse = { planId: string; courseId: string; title: string; startsAt: Date };

/** Of each of these plans the first course that is coming or running, found by the sessions still to end, which are few. */
export async function listNextCourses(
  tx: Transaction,
  now: Date,
  planIds: readonly string[],
): Promise<Map<string, NextCourse>> {
  const rows = await tx.$queryRaw<NextCourse[]>`
    SELECT DISTINCT ON (c.plan_id) c.plan_id::text AS "planId", c.id::text AS "courseId", c.title, f.starts_at AS "startsAt"
      FROM course c JOIN LATERAL (SELECT min(starts_at) AS starts_at FROM session WHERE course_id = c.id AND cancelled_at IS NULL) f ON true
     WHERE c.completed_on IS NULL AND c.cancelled_at IS NULL AND c.id IN (SELECT course_id FROM session WHERE ends_at > ${now} AND cancelled_at IS NULL)
       AND c.plan_id = ANY(${[...planIds]}::uuid[])
     ORDER BY c.plan_id, f.starts_at, c.id`;
  return new Map(rows.map((row) => [row.planId, row]));
}

type PastCourses = { planId: string; kind: 'course' | 'openStudio'; places: number; booked: number; courses: number };

/** The courses that had begun before an instant, those that are alike counted together. Private sessions, which one group books or nobody, are left out. */
export async function listPastCourses(tx: Transaction, before: Date): Promise<PastCourses[]> {
  return tx.$queryRaw`
    SELECT plan_id AS "planId", kind::text, places, booked, count(*)::integer AS courses FROM (
      SELECT plan_id, kind, places, booked FROM course_enrolment WHERE begins_at < ${before}
      UNION ALL
      SELECT plan_id, kind, places, booked FROM (${enrolments(notNoted(before))}) late WHERE begins_at < ${before}
    ) past WHERE kind <> 'private' GROUP BY plan_id, kind, places, booked ORDER BY plan_id, places, booked`;
}

/** Notes what the courses begun before an instant learnt of enrolment, with their rows locked: nobody books or cancels meanwhile. */
export async function noteEnrolments(tx: Transaction, before: Date): Promise<number> {
  await tx.$executeRaw`SELECT 1 FROM course c WHERE ${notNoted(before)} ORDER BY c.id FOR NO KEY UPDATE`;
  return tx.$executeRaw`
    INSERT INTO course_enrolment (course_id, plan_id, kind, places, booked, begins_at)
    SELECT * FROM (${enrolments(notNoted(before))}) found WHERE begins_at < ${before} ON CONFLICT DO NOTHING`;
}

/** The tax rate of each plan's latest course; ids follow the order in which courses were made. */
export async function listLastTaxRates(tx: Transaction, planIds: readonly string[]): Promise<Map<string, string>> {
  const rows = await tx.$queryRaw<{ planId: string; taxRateId: string }[]>`
    SELECT wanted.id::text AS "planId", latest.tax_rate_id::text AS "taxRateId"
      FROM unnest(${planIds}::uuid[]) AS wanted (id)
      JOIN LATERAL (SELECT c.tax_rate_id FROM course c WHERE c.plan_id = wanted.id ORDER BY c.id DESC LIMIT 1) latest ON true`;
  return new Map(rows.map(({ planId, taxRateId }) => [planId, taxRateId]));
}
