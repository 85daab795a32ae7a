import type { Invariant } from '../../database/invariant.js';

/** What must always hold of sales of material. */
export const invariants: readonly Invariant[] = [
  {
    name: 'what was sold left by one sale, and what is not kept came back into its lots',
    sql: `WITH moved AS (
            SELECT x.sale_id, x.taking_back_id, m.* FROM sale_move x JOIN stock_move m ON m.id = x.move_id)
          SELECT format('stock move %s is %s by no sale', m.id, m.kind) AS fault FROM stock_move m
           WHERE m.kind IN ('sold', 'takenBack') AND NOT EXISTS (SELECT 1 FROM sale_move x WHERE x.move_id = m.id)
          UNION ALL
          SELECT format('sale %s: stock move %s is %s, of material %s', s.id, m.id, m.kind, m.material_id)
            FROM sale s JOIN moved m ON m.sale_id = s.id
           WHERE m.material_id <> s.material_id OR m.kind <> (CASE WHEN m.taking_back_id IS NULL THEN 'sold' ELSE 'takenBack' END)::move_kind
          UNION ALL
          SELECT format('sale %s is of %s and took %s', s.id, s.quantity, coalesce(-sum(m.quantity), 0))
            FROM sale s LEFT JOIN moved m ON m.sale_id = s.id AND m.taking_back_id IS NULL GROUP BY s.id
          HAVING s.quantity <> coalesce(-sum(m.quantity), 0)
          UNION ALL
          SELECT format('taking-back %s is of %s and brought %s', t.id, t.quantity, coalesce(sum(m.quantity), 0))
            FROM taking_back t LEFT JOIN moved m ON m.taking_back_id = t.id GROUP BY t.id
          HAVING t.quantity <> coalesce(sum(m.quantity), 0)
          UNION ALL
          SELECT format('sale %s brought more into lot %s than it took: %s worth %s', sale_id, lot_id, sum(quantity), sum(cost_minor))
            FROM moved GROUP BY sale_id, lot_id HAVING sum(quantity) > 0 OR sum(cost_minor) > 0`,
  },
  {
    name: 'a sale is charged, less what came back, at its price',
    sql: `SELECT format('charge %s of material belongs to no sale', c.id) AS fault FROM charge c
           WHERE c.kind = 'material' AND NOT EXISTS (SELECT 1 FROM sale s WHERE s.charge_id = c.id)
          UNION ALL
          SELECT format('sale %s: charge %s is of kind %s', s.id, c.id, c.kind) FROM sale s JOIN charge c ON c.id = s.charge_id
           WHERE c.kind <> 'material'
          UNION ALL
          SELECT format('sale %s: %s is asked and %s was kept for %s', s.id, c.gross_minor - x.credited, s.quantity - x.back, round(x.rate * greatest(0, s.quantity - x.back - x.included)))
            FROM sale s JOIN charge c ON c.id = s.charge_id JOIN material m ON m.id = s.material_id, LATERAL (SELECT
              s.price_minor::numeric / CASE m.unit WHEN 'piece' THEN 1 ELSE 1000 END AS rate,
              (SELECT coalesce(sum(amount_minor), 0) FROM credit WHERE charge_id = c.id) AS credited,
              (SELECT coalesce(sum(grams), 0) FROM membership_clay WHERE sale_id = s.id) AS included,
              (SELECT coalesce(sum(quantity), 0) FROM taking_back WHERE sale_id = s.id) AS back) x
           WHERE c.gross_minor - x.credited <> round(x.rate * greatest(0, s.quantity - x.back - x.included))
          UNION ALL
          SELECT format('taking-back %s has credit %s of another charge', t.id, r.id)
            FROM taking_back t JOIN sale s ON s.id = t.sale_id JOIN credit r ON r.id = t.credit_id WHERE r.charge_id <> s.charge_id`,
  },
];
