import type { Invariant } from '../../database/invariant.js';

/** What must always hold of firings, and of ware while it is fired. */
export const invariants: readonly Invariant[] = [
  {
    name: 'no kiln is planned twice at once',
    sql: `SELECT format('kiln %s is planned for firings %s and %s at once', a.kiln_id, a.number, b.number) AS fault
            FROM firing a JOIN firing b ON a.kiln_id = b.kiln_id AND a.number < b.number
             AND a.state = 'planned' AND b.state = 'planned'
             AND tstzrange(a.planned_from, a.planned_to) && tstzrange(b.planned_from, b.planned_to)`,
  },
  {
    name: "a firing's shares add up to its cost",
    sql: `SELECT format('firing %s is off by %s', f.number, f.energy_minor + f.wear_minor + f.labour_minor - coalesce(sum(s.amount_minor), 0)) AS fault
            FROM firing f LEFT JOIN share s ON s.firing_id = f.id WHERE f.energy_minor IS NOT NULL GROUP BY f.id
          HAVING f.energy_minor + f.wear_minor + f.labour_minor <> coalesce(sum(s.amount_minor), 0)`,
  },
  {
    name: 'a piece is in one kiln at a time',
    sql: `SELECT format('piece %s is in %s kilns', p.piece_id, count(*)) AS fault
            FROM placement p JOIN firing f ON f.id = p.firing_id WHERE f.state IN ('planned', 'firing')
           GROUP BY p.piece_id HAVING count(*) > 1`,
  },
  {
    name: 'nothing raw leaves the studio',
    sql: `SELECT format('piece %s is %s, and its layer %s was not fired', p.code, p.stage, g.ordinal) AS fault
            FROM piece p JOIN piece_glaze g ON g.piece_id = p.id JOIN material m ON m.id = g.material_id,
            LATERAL (SELECT count(*) AS times FROM placement WHERE piece_id = p.id AND outcome IS NOT NULL) fired
           WHERE p.stage IN ('ready', 'collected', 'givenAway') AND g.washed_off_at IS NULL AND m.kind <> 'wax'
             AND g.firings_before = fired.times
          UNION ALL
          SELECT format('piece %s: layer %s counts %s firings before it, of %s', p.code, g.ordinal, g.firings_before, fired.times)
            FROM piece p JOIN piece_glaze g ON g.piece_id = p.id,
            LATERAL (SELECT count(*) AS times FROM placement WHERE piece_id = p.id AND outcome IS NOT NULL) fired
           WHERE g.firings_before > fired.times`,
  },
];
