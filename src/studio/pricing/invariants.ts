import { Prisma } from '../../database/generated/client.js';
import type { Invariant } from '../../database/invariant.js';
import { enrolments } from './queries.js';

/** What must always hold of what prices learn from. */
export const invariants: readonly Invariant[] = [
  {
    name: 'a noted enrolment is that of the bookings',
    sql: `SELECT format('course %s is noted with %s of %s places from %s, and had %s of %s from %s',
                        e.course_id, e.booked, e.places, e.begins_at, f.booked, f.places, f.begins_at) AS fault
            FROM course_enrolment e JOIN (${enrolments(Prisma.sql`true`).sql}) f ON f.course_id = e.course_id
           WHERE (e.plan_id, e.kind, e.places, e.booked, e.begins_at)
                 IS DISTINCT FROM (f.plan_id, f.kind, f.places, f.booked, f.begins_at)`,
  },
  {
    name: 'a course is marked as noted where its enrolment is',
    sql: `SELECT format('course %s is marked as %s', c.id, CASE WHEN c.enrolment_noted THEN 'noted' ELSE 'not noted' END) AS fault
            FROM course c WHERE c.enrolment_noted <> EXISTS (SELECT 1 FROM course_enrolment e WHERE e.course_id = c.id)`,
  },
];
