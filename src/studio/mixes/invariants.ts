import type { Invariant } from '../../database/invariant.js';

/** What must always hold of mixes and their batches. */
export const invariants: readonly Invariant[] = [
  {
    name: 'a batch costs what it drew',
    sql: `SELECT format('batch %s costs %s and drew %s', b.number, l.cost_minor, d.minor) AS fault
            FROM mix_batch b JOIN lot l ON l.id = b.lot_id, LATERAL (
              SELECT coalesce(-sum(s.cost_minor), 0) AS minor FROM mix_draw x JOIN stock_move s ON s.id = x.move_id
               WHERE x.batch_id = b.id) d
           WHERE l.cost_minor <> d.minor`,
  },
  {
    name: 'mixes are nested at most once',
    sql: `WITH latest AS (SELECT DISTINCT ON (mix_id) id, mix_id FROM mix_version ORDER BY mix_id, number DESC),
               inside AS (SELECT l.mix_id AS outer_id, m.id AS inner_id
                            FROM latest l JOIN mix_part p ON p.version_id = l.id JOIN mix m ON m.product_id = p.material_id)
          SELECT format('mix %s holds mix %s, which holds another', a.outer_id, a.inner_id) AS fault
            FROM inside a JOIN inside b ON b.outer_id = a.inner_id`,
  },
];
