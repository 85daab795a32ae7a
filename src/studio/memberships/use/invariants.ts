import type { Invariant } from '../../../database/invariant.js';

/** What must always hold of what members used of what is included. */
export const USE_INVARIANTS: readonly Invariant[] = [
  {
    name: 'no month of a membership includes more than was agreed',
    sql: `SELECT format('membership %s, %s: %s minutes of %s', m.id, x.month, used_bench_minutes(m.id, x.month), m.bench_minutes) AS fault
            FROM (SELECT DISTINCT membership_id, month FROM membership_visit) x JOIN membership m ON m.id = x.membership_id
           WHERE used_bench_minutes(m.id, x.month) > m.bench_minutes
          UNION ALL
          SELECT format('membership %s, %s: %s mm³ of %s litres', m.id, x.month, used_firing_mm3(m.id, x.month), m.firing_litres)
            FROM (SELECT DISTINCT membership_id, month FROM membership_firing) x JOIN membership m ON m.id = x.membership_id
           WHERE used_firing_mm3(m.id, x.month) > m.firing_litres * 1000000
          UNION ALL
          SELECT format('membership %s, %s: %s grams of %s', m.id, x.month, used_clay_grams(m.id, x.month), m.clay_grams)
            FROM (SELECT DISTINCT membership_id, month FROM membership_clay) x JOIN membership m ON m.id = x.membership_id
           WHERE used_clay_grams(m.id, x.month) > m.clay_grams`,
  },
  {
    name: 'what a membership includes is of its member, and is credited',
    sql: `SELECT format('visit of place %s is of somebody else', v.place_id) AS fault
            FROM membership_visit v JOIN place p ON p.id = v.place_id JOIN membership m ON m.id = v.membership_id
           WHERE p.person_id <> m.person_id
          UNION ALL
          SELECT format('booking %s: %s is included and %s credited', b.id, sum(v.included_minor), x.credited)
            FROM membership_visit v JOIN place p ON p.id = v.place_id JOIN booking b ON b.id = p.booking_id, LATERAL (
              SELECT coalesce(sum(amount_minor), 0) AS credited FROM credit WHERE charge_id = b.charge_id) x
           GROUP BY b.id, x.credited HAVING sum(v.included_minor) > x.credited
          UNION ALL
          SELECT format('charge %s: what is included of it is another''s', u.charge_id)
            FROM membership_firing u JOIN membership m ON m.id = u.membership_id JOIN charge c ON c.id = u.charge_id
            JOIN credit r ON r.id = u.credit_id WHERE c.person_id <> m.person_id OR r.charge_id <> c.id
          UNION ALL
          SELECT format('sale %s: what is included of it is another''s', u.sale_id)
            FROM membership_clay u JOIN membership m ON m.id = u.membership_id JOIN sale s ON s.id = u.sale_id JOIN charge c ON c.id = s.charge_id
           WHERE c.person_id <> m.person_id`,
  },
];
