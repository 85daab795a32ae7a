import type { Invariant } from '../../../database/invariant.js';

/** Nobody waits for what they have. Oversold offers are found with oversold courses. */
export const WAITING_INVARIANT: Invariant = {
  name: 'nobody who has a place waits for one, and what was accepted was booked',
  sql: `SELECT format('person %s waits for course %s and has a place', w.person_id, w.course_id) AS fault
          FROM waiting_entry w JOIN place p ON p.person_id = w.person_id
          JOIN booking b ON b.id = p.booking_id AND b.course_id = w.course_id
         WHERE w.ended_at IS NULL AND b.cancelled_at IS NULL
        UNION ALL
        SELECT format('waiting entry %s was booked as %s', w.id, w.booking_id)
          FROM waiting_entry w LEFT JOIN booking b ON b.id = w.booking_id
         WHERE w.ended = 'booked' AND b.course_id IS DISTINCT FROM w.course_id`,
};
