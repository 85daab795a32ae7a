import type { Invariant } from '../../../database/invariant.js';

/** What must always hold of those who make a session up in another course. */
export const MAKE_UP_INVARIANTS: readonly Invariant[] = [
  {
    name: 'no session has more people than its course has places, those who make one up among them',
    sql: `SELECT format('session %s: %s places, %s taken and %s make one up', s.id, c.places, t.taken, g.guests) AS fault
            FROM session s JOIN course c ON c.id = s.course_id,
            LATERAL (SELECT count(*) AS guests FROM make_up m WHERE m.session_id = s.id AND m.ended_at IS NULL) g,
            LATERAL (SELECT (SELECT count(*) FROM booking b JOIN place p ON p.booking_id = b.id
                              WHERE b.course_id = c.id AND b.cancelled_at IS NULL)
                          + (SELECT coalesce(sum(w.places), 0) FROM waiting_entry w
                              WHERE w.course_id = c.id AND w.offered_at IS NOT NULL AND w.ended_at IS NULL) AS taken) t
           WHERE g.guests > 0 AND t.taken + g.guests > c.places`,
  },
  {
    name: 'who makes a session up has a place on its course and none on the other, which has not cancelled the session',
    sql: `SELECT format('make-up %s is of no place, in its own course, of another purpose or at a cancelled session', m.id) AS fault
            FROM make_up m JOIN session o ON o.id = m.missed_session_id JOIN session s ON s.id = m.session_id
            JOIN booking b ON b.id = m.booking_id
           WHERE m.ended_at IS NULL
             AND (b.cancelled_at IS NOT NULL OR o.course_id <> b.course_id OR s.course_id = o.course_id OR s.purpose <> o.purpose
                  OR s.cancelled_at IS NOT NULL
                  OR NOT EXISTS (SELECT FROM place p WHERE p.booking_id = b.id AND p.person_id = m.person_id)
                  OR EXISTS (SELECT FROM place p JOIN booking x ON x.id = p.booking_id
                              WHERE x.course_id = s.course_id AND x.cancelled_at IS NULL AND p.person_id = m.person_id))`,
  },
];
