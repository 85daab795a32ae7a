import type { Invariant } from '../../database/invariant.js';

/** What must always hold of courses and their sessions. */
export const invariants: readonly Invariant[] = [
  {
    name: 'a course has the sessions of its plan',
    sql: `SELECT format('course %s has sessions for %s, and its plan for %s', c.id, s.purposes, p.purposes) AS fault
            FROM course c,
            LATERAL (SELECT string_agg(purpose::text, ', ' ORDER BY ordinal) AS purposes FROM session
                      WHERE course_id = c.id AND NOT is_added) s,
            LATERAL (SELECT string_agg(purpose::text, ', ' ORDER BY ordinal) AS purposes FROM plan_session WHERE plan_id = c.plan_id) p
           WHERE s.purposes IS DISTINCT FROM p.purposes`,
  },
  {
    name: 'no tutor is in two places',
    sql: `SELECT format('tutor %s teaches %s and %s at once', a.staff_member_id, a.session_id, b.session_id) AS fault
            FROM session_tutor a JOIN session_tutor b ON a.staff_member_id = b.staff_member_id AND a.session_id < b.session_id
             AND tstzrange(a.starts_at, a.ends_at) && tstzrange(b.starts_at, b.ends_at)`,
  },
  {
    name: 'no room needs more benches than it has',
    sql: `SELECT format('room %s has %s benches and %s are used at %s', r.id, r.benches, sum(t.benches), s.starts_at) AS fault
            FROM session s JOIN room r ON r.id = s.room_id
            JOIN session t ON t.room_id = r.id AND t.cancelled_at IS NULL AND t.starts_at <= s.starts_at AND s.starts_at < t.ends_at
           GROUP BY r.id, s.id HAVING sum(t.benches) > r.benches`,
  },
  {
    name: 'on a cancelled course nobody has a place, nobody waits, and no session is left',
    sql: `SELECT format('course %s is cancelled, with %s bookings, %s waiting and %s sessions', c.id, b.open, w.open, s.open) AS fault
            FROM course c,
            LATERAL (SELECT count(*) AS open FROM booking WHERE course_id = c.id AND cancelled_at IS NULL) b,
            LATERAL (SELECT count(*) AS open FROM waiting_entry WHERE course_id = c.id AND ended_at IS NULL) w,
            LATERAL (SELECT count(*) AS open FROM session WHERE course_id = c.id AND cancelled_at IS NULL) s
           WHERE c.cancelled_at IS NOT NULL AND b.open + w.open + s.open > 0
          UNION ALL
          SELECT format('session %s is cancelled, and %s teaches it', s.id, t.staff_member_id)
            FROM session s JOIN session_tutor t ON t.session_id = s.id WHERE s.cancelled_at IS NOT NULL
          UNION ALL
          SELECT format('course %s goes on without a session', c.id) FROM course c
           WHERE c.cancelled_at IS NULL AND NOT EXISTS (SELECT FROM session s WHERE s.course_id = c.id AND s.cancelled_at IS NULL)`,
  },
  {
    name: 'no more comes back from a course than it drew, and none of it dearer',
    sql: `SELECT format('course %s drew %s of material %s worth %s, and gave %s worth %s back', b.course_id, d.quantity, b.material_id, d.worth, b.quantity, b.worth) AS fault
            FROM (SELECT r.course_id, l.material_id, sum(l.quantity) AS quantity, sum(l.cost_minor) AS worth
                    FROM course_reclaim r JOIN lot l ON l.id = r.lot_id GROUP BY r.course_id, l.material_id) b,
            LATERAL (SELECT coalesce(-sum(m.quantity), 0) AS quantity, coalesce(-sum(m.cost_minor), 0) AS worth
                       FROM course_draw c JOIN stock_move m ON m.id = c.stock_move_id
                      WHERE c.course_id = b.course_id AND m.material_id = b.material_id) d
           WHERE b.quantity > d.quantity OR b.worth > d.worth`,
  },
];
