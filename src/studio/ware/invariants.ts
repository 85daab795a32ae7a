import type { Invariant } from '../../database/invariant.js';

/** What must always hold of ware and its stages. */
export const invariants: readonly Invariant[] = [
  {
    name: 'what was drawn for a piece was drawn for its course',
    sql: `SELECT format('stock move %s is for piece %s of course %s, and for course %s', d.stock_move_id, p.code, p.course_id, c.course_id) AS fault
            FROM piece_draw d JOIN piece p ON p.id = d.piece_id LEFT JOIN course_draw c ON c.stock_move_id = d.stock_move_id
           WHERE p.course_id IS DISTINCT FROM c.course_id`,
  },
  {
    name: 'clay is reclaimed before it is fired, and only what is ready is given away',
    sql: `SELECT format('piece %s is %s and was %s', p.code, p.stage, before.stage) AS fault
            FROM piece p, LATERAL (
              SELECT stage FROM piece_event WHERE piece_id = p.id AND stage <> p.stage ORDER BY id DESC LIMIT 1) before
           WHERE (p.stage = 'reclaimed' AND before.stage NOT IN ('greenware', 'dry'))
              OR (p.stage = 'givenAway' AND before.stage <> 'ready')`,
  },
  {
    name: "a piece's stage is that of its last event",
    sql: `SELECT format('piece %s is %s and its last event says %s', p.code, p.stage, e.stage) AS fault
            FROM piece p LEFT JOIN LATERAL (
              SELECT stage FROM piece_event WHERE piece_id = p.id ORDER BY id DESC LIMIT 1) e ON true
           WHERE e.stage IS DISTINCT FROM p.stage`,
  },
  {
    name: 'a lost piece is counted where it was lost',
    sql: `SELECT format('piece %s was lost at %s and is counted at %s', p.code, where_lost(p.id, last_stage_whole(p.id)), p.lost_at) AS fault
            FROM piece p WHERE p.stage = 'broken' AND p.lost_at IS DISTINCT FROM where_lost(p.id, last_stage_whole(p.id))`,
  },
];
