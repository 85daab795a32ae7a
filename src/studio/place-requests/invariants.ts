import type { Invariant } from '../../database/invariant.js';

export const invariants: readonly Invariant[] = [
  {
    name: 'what was asked for on the web page was booked or waits on the course that it was asked for',
    sql: `SELECT format('place request %s for course %s was answered on another', r.id, r.course_id) AS fault
            FROM place_request r LEFT JOIN booking b ON b.id = r.booking_id LEFT JOIN waiting_entry w ON w.id = r.waiting_entry_id
           WHERE r.answer IN ('booked', 'waiting') AND coalesce(b.course_id, w.course_id) <> r.course_id`,
  },
];
