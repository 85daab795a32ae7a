/** What is filled again, falls due and is paid back of places that were given up: never more than that, and once. */
export const REFILL_INVARIANT = {
  name: 'a place that was given up is filled again once, and paid back once',
  sql: `SELECT format('booking %s gave up %s places and %s, and %s are filled for %s', g.booking_id, g.places, g.further_minor,
                      sum(r.places), sum(r.amount_minor)) AS fault
          FROM given_up g JOIN place_refill r ON r.given_up_id = g.id GROUP BY g.id
        HAVING sum(r.places) > g.places OR sum(r.amount_minor) > g.further_minor
            OR (sum(r.places) = g.places AND sum(r.amount_minor) < g.further_minor)
        UNION ALL
        SELECT format('booking %s gave up %s places and cancelled %s', b.id, sum(g.places), b.gone)
          FROM given_up g
          JOIN (SELECT id, (SELECT count(*) FROM cancelled_place c WHERE c.booking_id = k.id)
                         + CASE WHEN k.cancelled_at IS NULL THEN 0
                                ELSE (SELECT count(*) FROM place p WHERE p.booking_id = k.id) END AS gone
                  FROM booking k) b ON b.id = g.booking_id
         GROUP BY b.id, b.gone HAVING sum(g.places) > b.gone
        UNION ALL
        SELECT format('credit %s of %s pays back refills of %s', c.id, c.amount_minor, sum(p.amount_minor))
          FROM credit c JOIN refill_refund r ON r.credit_id = c.id JOIN place_refill p ON p.id = r.refill_id
          JOIN booking b ON b.id = p.booking_id
         GROUP BY c.id HAVING sum(p.amount_minor) <> c.amount_minor OR bool_or(b.charge_id <> c.charge_id)`,
};
