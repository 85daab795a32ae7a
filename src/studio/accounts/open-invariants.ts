import type { Invariant } from '../../database/invariant.js';

/** What triggers keep, so that lists need not work it out for every row. */
export const OPEN_INVARIANTS: readonly Invariant[] = [
  {
    name: 'what is owed on is listed as open, and nothing else',
    sql: `SELECT format('charge %s leaves %s to pay and is %s', c.id, s.owed, CASE WHEN o.charge_id IS NULL THEN 'not open' ELSE 'open' END) AS fault
            FROM charge c LEFT JOIN open_charge o ON o.charge_id = c.id, LATERAL (SELECT
              c.gross_minor - (SELECT coalesce(sum(amount_minor), 0) FROM credit WHERE charge_id = c.id)
                            - (SELECT coalesce(sum(amount_minor), 0) FROM allocation WHERE charge_id = c.id) AS owed) s
           WHERE (s.owed > 0) <> (o.charge_id IS NOT NULL)`,
  },
  {
    name: 'what is left on vouchers is what their moves left',
    sql: `SELECT format('voucher %s has %s left and is said to have %s', v.id, m.rest, coalesce(o.left_minor, 0)) AS fault
            FROM voucher v LEFT JOIN open_voucher o ON o.voucher_id = v.id, LATERAL (
              SELECT coalesce(sum(amount_minor), 0) AS rest FROM voucher_move WHERE voucher_id = v.id) m
           WHERE m.rest <> coalesce(o.left_minor, 0)`,
  },
  {
    name: 'a message is at what its last delivery says',
    sql: `SELECT format('message %s is %s, and its last delivery %s', n.id, n.state, d.outcome) AS fault
            FROM notice n LEFT JOIN LATERAL (
              SELECT outcome FROM delivery WHERE notice_id = n.id ORDER BY id DESC LIMIT 1) d ON true
           WHERE n.state::text <> coalesce(d.outcome::text, 'waiting')`,
  },
  {
    name: 'a payment that was taken back is taken back whole, and its receipt with it',
    sql: `SELECT format('payment %s of %s is taken back by %s', v.payment_id, p.amount_minor, r.amount_minor) AS fault
            FROM payment_reversal v JOIN payment p ON p.id = v.payment_id JOIN payment r ON r.id = v.reversal_id
           WHERE r.amount_minor <> -p.amount_minor OR r.person_id <> p.person_id
          UNION ALL
          SELECT format('payment %s is taken back and its receipt is not', v.payment_id)
            FROM payment_reversal v WHERE NOT EXISTS (SELECT FROM credit_note n WHERE n.reversal_of = v.payment_id)`,
  },
];
