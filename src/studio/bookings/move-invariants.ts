import type { Invariant } from '../../database/invariant.js';

/** What must always hold of bookings that were moved, and of what was carried over. */
export const MOVE_INVARIANTS: readonly Invariant[] = [
  {
    name: 'a booking that was moved ended as the other began, and what was carried over is what both charges say',
    sql: `SELECT format('booking %s is moved to %s and is not there as it says', coalesce(m.booking_id, b.id), coalesce(m.to_id, b.moved_to_id)) AS fault
            FROM booking_move m FULL JOIN booking b ON b.id = m.booking_id LEFT JOIN booking n ON n.id = m.to_id
           WHERE (m.booking_id IS NOT NULL OR b.moved_to_id IS NOT NULL)
             AND (b.moved_to_id = n.id AND b.course_id <> n.course_id AND b.payer_id = n.payer_id AND b.cancelled_at = m.moved_at
                  AND n.booked_at = m.moved_at AND m.carried_minor = (
                    SELECT coalesce(sum(a.amount_minor), 0) FROM allocation a JOIN payment p ON p.id = a.payment_id
                     WHERE a.charge_id = n.charge_id AND p.method = 'carried' AND p.amount_minor > 0)) IS NOT TRUE`,
  },
  {
    name: 'what is carried from one charge comes to another',
    sql: `SELECT format('payment %s of %s is carried to nowhere', p.id, p.amount_minor) AS fault
            FROM payment p LEFT JOIN payment_carry c ON p.id IN (c.out_id, c.in_id)
            LEFT JOIN payment o ON o.id = c.out_id LEFT JOIN payment i ON i.id = c.in_id
           WHERE p.method = 'carried' AND (o.amount_minor = -i.amount_minor AND o.person_id = i.person_id AND i.amount_minor = (
                   SELECT sum(x.amount_minor) FROM payment_carry_part x WHERE x.out_id = c.out_id)) IS NOT TRUE`,
  },
];
