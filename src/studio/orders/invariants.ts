import type { Invariant } from '../../database/invariant.js';

/** What must always hold of orders to suppliers. */
export const invariants: readonly Invariant[] = [
  {
    name: 'what arrived of an order had been placed',
    sql: `SELECT format('consignment %s arrived of order %s, which was never placed', c.id, c.order_id) AS fault
            FROM consignment c WHERE c.order_id IS NOT NULL
             AND NOT EXISTS (SELECT 1 FROM supply_order_event e WHERE e.order_id = c.order_id AND e.kind = 'placed')`,
  },
];
