import type { Invariant } from '../../database/invariant.js';

/** What must always hold of lots and what they cost. */
export const invariants: readonly Invariant[] = [
  {
    name: 'what is left of a lot is between nothing and what came',
    sql: `SELECT format('lot %s holds %s worth %s', l.id, sum(m.quantity), sum(m.cost_minor)) AS fault
            FROM lot l JOIN stock_move m ON m.lot_id = l.id,
            LATERAL (SELECT l.cost_minor + coalesce(sum(amount_minor), 0) AS minor FROM carriage_share WHERE lot_id = l.id) cost
           GROUP BY l.id, cost.minor
          HAVING sum(m.quantity) NOT BETWEEN 0 AND l.quantity OR sum(m.cost_minor) NOT BETWEEN 0 AND cost.minor
              OR (sum(m.quantity) = 0 AND sum(m.cost_minor) <> 0)`,
  },
  {
    name: 'what a lot is said to hold is what its moves left',
    sql: `SELECT format('lot %s is said to hold %s worth %s, and its moves left %s worth %s', l.id, l.left_quantity, l.left_minor, m.quantity, m.minor) AS fault
            FROM lot l LEFT JOIN (SELECT lot_id, sum(quantity) AS quantity, sum(cost_minor) AS minor FROM stock_move GROUP BY lot_id) m ON m.lot_id = l.id
           WHERE (l.left_quantity, l.left_minor) IS DISTINCT FROM (coalesce(m.quantity, 0), coalesce(m.minor, 0))`,
  },
  {
    name: 'a carriage bill is shared among the lots that came with it',
    sql: `SELECT format('carriage bill %s is off by %s', b.id, b.amount_minor - coalesce(sum(s.amount_minor), 0)) AS fault
            FROM carriage_bill b LEFT JOIN carriage_share s ON s.bill_id = b.id GROUP BY b.id
          HAVING b.amount_minor <> coalesce(sum(s.amount_minor), 0)
          UNION ALL
          SELECT format('carriage bill %s is on lot %s, which came otherwise', b.id, l.id)
            FROM carriage_bill b JOIN carriage_share s ON s.bill_id = b.id JOIN lot l ON l.id = s.lot_id
           WHERE l.consignment_id IS DISTINCT FROM b.consignment_id`,
  },
];
