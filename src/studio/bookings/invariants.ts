import type { Invariant } from '../../database/invariant.js';
import { MAKE_UP_INVARIANTS } from './make-ups/invariants.js';
import { MOVE_INVARIANTS } from './move-invariants.js';
import { REFILL_INVARIANT } from './refill-invariant.js';
import { WAITING_INVARIANT } from './waiting-list/invariants.js';

/** What must always hold of bookings and the places that they take. */
export const invariants: readonly Invariant[] = [
  {
    name: 'no course is oversold',
    sql: `SELECT format('course %s has %s places and %s are taken or offered', c.id, c.places, sum(t.places)) AS fault
            FROM course c JOIN (
              SELECT b.course_id, 1 AS places FROM booking b JOIN place p ON p.booking_id = b.id WHERE b.cancelled_at IS NULL
              UNION ALL SELECT course_id, places FROM waiting_entry WHERE offered_at IS NOT NULL AND ended_at IS NULL
            ) t ON t.course_id = c.id GROUP BY c.id HAVING sum(t.places) > c.places`,
  },
  {
    name: 'no concession is given more often than it may be, nor on another course',
    sql: `SELECT format('concession %s is for %s places and %s have it', c.id, c.at_most, count(*)) AS fault
            FROM course_concession c JOIN place p ON p.concession_id = c.id JOIN booking b ON b.id = p.booking_id
           WHERE b.cancelled_at IS NULL GROUP BY c.id HAVING count(*) > c.at_most
          UNION ALL
          SELECT format('place %s has a concession of course %s', p.id, c.course_id)
            FROM course_concession c JOIN place p ON p.concession_id = c.id JOIN booking b ON b.id = p.booking_id
           WHERE b.course_id <> c.course_id`,
  },
  {
    name: 'a private session is for one group, and only open studio runs with nobody',
    sql: `SELECT format('private session %s has %s bookings', c.id, count(*)) AS fault
            FROM course c JOIN course_plan p ON p.id = c.plan_id JOIN booking b ON b.course_id = c.id AND b.cancelled_at IS NULL
           WHERE p.kind = 'private' GROUP BY c.id HAVING count(*) > 1
          UNION ALL
          SELECT format('booking %s has %s people without names, of %s places', b.id, b.unnamed, c.places)
            FROM booking b JOIN course c ON c.id = b.course_id JOIN course_plan p ON p.id = c.plan_id
           WHERE b.unnamed > 0 AND b.cancelled_at IS NULL
             AND (p.kind <> 'private' OR b.unnamed + (SELECT count(*) FROM place x WHERE x.booking_id = b.id) > c.places)
          UNION ALL
          SELECT format('course %s: %s, minimum %s, %s for each extra person', c.id, p.kind, c.minimum, c.per_head_above_minor)
            FROM course c JOIN course_plan p ON p.id = c.plan_id
           WHERE (p.kind = 'openStudio') <> (c.minimum = 0) OR (p.kind = 'private') <> (c.per_head_above_minor IS NOT NULL)`,
  },
  {
    name: 'a booking has a place, and a place that was cancelled is gone',
    sql: `SELECT format('booking %s has no place', b.id) AS fault
            FROM booking b WHERE NOT EXISTS (SELECT FROM place p WHERE p.booking_id = b.id)
          UNION ALL
          SELECT format('place %s was cancelled and is still there', c.id) FROM cancelled_place c JOIN place p ON p.id = c.id`,
  },
  ...MOVE_INVARIANTS,
  ...MAKE_UP_INVARIANTS,
  REFILL_INVARIANT,
  WAITING_INVARIANT,
];
