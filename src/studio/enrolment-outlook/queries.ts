import { Prisma } from '../../database/generated/client.js';
import type { Transaction } from '../../database/transaction.js';
import type { BookingLead } from '../../trade/pricing/booking-pace.js';
import { isDepositPaid } from '../bookings/queries.js';
import type { PlanKind } from '../courses/plan-terms.js';

export type ComingCourse = {
  courseId: string;
  planId: string;
  kind: PlanKind;
  title: string;
  startsAt: Date;
  places: number;
  minimum: number;
  /** YYYY-MM-DD */
  decideOn: string | null;
  /** YYYY-MM-DD */
  bookableFrom: string | null;
  bookableUntil: string | null;
  confirmed: number;
  held: number;
  offered: number;
  /** how many make up a session there, in the one that most do */
  madeUp: number;
  waiting: number;
};

/** A session `f` is its course's first of those that take place. */
const isFirst = Prisma.sql`f.cancelled_at IS NULL AND NOT EXISTS (
  SELECT FROM session e WHERE e.course_id = f.course_id AND e.cancelled_at IS NULL AND e.ordinal < f.ordinal)`;

/** Every course that has not begun, the one that begins first, first. They are found by the sessions to come, which are few. */
export async function listComingCourses(tx: Transaction, now: Date): Promise<ComingCourse[]> {
  return tx.$queryRaw<ComingCourse[]>`
    SELECT c.id::text AS "courseId", c.plan_id::text AS "planId", n.kind::text AS kind, c.title, f.starts_at AS "startsAt",
           c.places, c.minimum, c.decide_on::text AS "decideOn",
           c.bookable_from::text AS "bookableFrom", c.bookable_until::text AS "bookableUntil",
           coalesce(b.confirmed, 0)::integer AS confirmed, coalesce(b.held, 0)::integer AS held,
           made_up_in(c.id)::integer AS "madeUp", coalesce(w.offered, 0)::integer AS offered, coalesce(w.waiting, 0)::integer AS waiting
      FROM session f
      JOIN course c ON c.id = f.course_id
      JOIN course_plan n ON n.id = c.plan_id
      LEFT JOIN LATERAL (
        SELECT sum(k.places) FILTER (WHERE k.paid) AS confirmed, sum(k.places) FILTER (WHERE NOT k.paid) AS held FROM (
          SELECT ${isDepositPaid} AS paid, (SELECT count(*) FROM place p WHERE p.booking_id = b.id) AS places
            FROM booking b WHERE b.course_id = c.id AND b.cancelled_at IS NULL) k) b ON true
      LEFT JOIN LATERAL (
        SELECT sum(e.places) FILTER (WHERE e.offered_at IS NOT NULL) AS offered,
               sum(e.places) FILTER (WHERE e.offered_at IS NULL) AS waiting
          FROM waiting_entry e WHERE e.course_id = c.id AND e.ended_at IS NULL) w ON true
     WHERE ${isFirst} AND f.starts_at > ${now} AND c.completed_on IS NULL AND c.cancelled_at IS NULL
     ORDER BY f.starts_at, c.id`;
}

/** People's habits change: of so many courses that began last it is looked at when they were booked. */
const COURSES_LOOKED_AT = 100;

/** How many days before their course began places were booked that stood then, private sessions left out; by kind. Course by course, as their bookings are few among all. */
export async function listBookingLeads(tx: Transaction, now: Date): Promise<(BookingLead & { kind: PlanKind })[]> {
  return tx.$queryRaw`
    WITH latest AS (
      SELECT course_id, kind, begins_at FROM course_enrolment e
       WHERE begins_at < ${now} AND kind <> 'private' -- one that was cancelled counts from that day, and never began
         AND NOT EXISTS (SELECT FROM course c WHERE c.id = e.course_id AND c.cancelled_at IS NOT NULL) ORDER BY begins_at DESC LIMIT ${COURSES_LOOKED_AT})
    SELECT l.kind::text AS kind, k."daysBefore", sum(k.places)::integer AS places
      FROM latest l CROSS JOIN LATERAL (
        SELECT floor(extract(epoch FROM l.begins_at - b.booked_at) / 86400)::integer AS "daysBefore", count(*) AS places
          FROM booking b JOIN place p ON p.booking_id = b.id
         WHERE b.course_id = l.course_id AND b.booked_at < l.begins_at
           AND (b.cancelled_at IS NULL OR b.cancelled_at >= l.begins_at)
         GROUP BY 1) k
     GROUP BY 1, 2 ORDER BY 1, 2`;
}

type Reached = { personId: string; name: string; phone: string | null; email: string | null };
export type EndingHold = Reached & {
  bookingId: string;
  courseId: string;
  title: string;
  places: number;
  heldUntil: Date;
};

/** Bookings of courses to come that wait for a deposit until before some instant, those that ran out but stand still among them. */
export async function listEndingHolds(tx: Transaction, now: Date, before: Date): Promise<EndingHold[]> {
  return tx.$queryRaw<EndingHold[]>`
    SELECT b.id::text AS "bookingId", c.id::text AS "courseId", c.title, b.held_until AS "heldUntil",
           (SELECT count(*) FROM place WHERE booking_id = b.id)::integer AS places,
           p.id::text AS "personId", p.name, p.phone, p.email
      FROM open_charge o JOIN booking b ON b.charge_id = o.charge_id
      JOIN course c ON c.id = b.course_id JOIN session f ON f.course_id = c.id AND ${isFirst}
      JOIN person p ON p.id = b.payer_id
     WHERE b.cancelled_at IS NULL AND b.held_until < ${before} AND NOT (${isDepositPaid}) AND f.starts_at > ${now}
     ORDER BY b.held_until, b.id`;
}

export type PersonToRing = Reached & {
  courseId: string;
  because: 'holdEnded' | 'waitsElsewhere';
  places: number;
  since: Date;
};

/**
 * Who wanted a place of one of these courses: their hold of one ran out and they have booked none since, or they wait for another
 * course of its plan that has not begun. Somebody for whom both is true is listed once for each course.
 */
export async function listPeopleToRing(
  tx: Transaction,
  now: Date,
  courseIds: readonly string[],
): Promise<PersonToRing[]> {
  if (courseIds.length === 0) return [];
  const comes = (person: Prisma.Sql, course: Prisma.Sql) => Prisma.sql`EXISTS (
    SELECT FROM booking k WHERE k.course_id = ${course} AND k.cancelled_at IS NULL
       AND (k.payer_id = ${person} OR EXISTS (SELECT FROM place q WHERE q.booking_id = k.id AND q.person_id = ${person})))`;
  return tx.$queryRaw<PersonToRing[]>`
    WITH open AS (SELECT c.id, c.plan_id FROM course c WHERE c.id = ANY(${[...courseIds]}::uuid[])),
    wanted AS (
      SELECT o.id AS course_id, b.payer_id AS person_id, 'holdEnded' AS because, b.cancelled_at AS since,
             (SELECT count(*) FROM cancelled_place g WHERE g.booking_id = b.id)
             + (SELECT count(*) FROM place p WHERE p.booking_id = b.id) AS places
        FROM open o JOIN booking b ON b.course_id = o.id
       WHERE b.deposit_minor > 0 AND b.cancelled_at >= b.held_until
         AND NOT EXISTS (SELECT FROM allocation a WHERE a.charge_id = b.charge_id)
      UNION ALL
      SELECT o.id, e.person_id, 'waitsElsewhere', e.since, e.places
        FROM open o JOIN course c ON c.plan_id = o.plan_id AND c.id <> o.id AND c.cancelled_at IS NULL
        JOIN session f ON f.course_id = c.id AND ${isFirst} AND f.starts_at > ${now}
        JOIN waiting_entry e ON e.course_id = c.id AND e.ended_at IS NULL AND e.offered_at IS NULL
    )
    SELECT DISTINCT ON (w.course_id, w.person_id)
           w.course_id::text AS "courseId", w.person_id::text AS "personId", w.because, w.since, w.places::integer AS places,
           p.name, p.phone, p.email
      FROM wanted w JOIN person p ON p.id = w.person_id
     WHERE NOT ${comes(Prisma.sql`w.person_id`, Prisma.sql`w.course_id`)}
     ORDER BY w.course_id, w.person_id, w.since DESC`;
}
