import type { Invariant } from '../../database/invariant.js';
import { OPEN_INVARIANTS } from './open-invariants.js';
import { VAT_INVARIANTS } from './vat-invariants.js';

/** What must always hold of the books, charges, payments, vouchers and papers. */
export const invariants: readonly Invariant[] = [
  ...OPEN_INVARIANTS,
  {
    name: 'what is split adds up',
    sql: `SELECT format('charge %s: its instalments are off by %s', c.id, c.gross_minor - coalesce(sum(i.amount_minor), 0)) AS fault
            FROM charge c LEFT JOIN instalment i ON i.charge_id = c.id GROUP BY c.id
          HAVING c.gross_minor <> coalesce(sum(i.amount_minor), 0)
          UNION ALL
          SELECT format('charge %s: its parts are %s too much', c.id, sum(p.gross_minor) - c.gross_minor)
            FROM charge c JOIN charge_part p ON p.charge_id = c.id GROUP BY c.id HAVING sum(p.gross_minor) > c.gross_minor`,
  },
  {
    name: 'every journal entry balances',
    sql: `SELECT format('entry %s is off by %s', e.id, coalesce(sum(p.amount_minor), 0)) AS fault
            FROM journal_entry e LEFT JOIN posting p ON p.entry_id = e.id GROUP BY e.id
          HAVING coalesce(sum(p.amount_minor), 0) <> 0 OR count(p.id) < 2`,
  },
  {
    name: 'what people owe in the books is what their charges say',
    sql: `SELECT format('person %s owes %s by the books and %s by the charges', p.id, b.owed, c.owed) AS fault
            FROM person p,
            LATERAL (SELECT coalesce(sum(amount_minor), 0) AS owed FROM posting WHERE person_id = p.id) b,
            LATERAL (SELECT (SELECT coalesce(sum(gross_minor), 0) FROM charge WHERE person_id = p.id)
                          - (SELECT coalesce(sum(r.amount_minor), 0) FROM credit r JOIN charge h ON h.id = r.charge_id WHERE h.person_id = p.id)
                          - (SELECT coalesce(sum(a.amount_minor), 0) FROM payment y JOIN allocation a ON a.payment_id = y.id WHERE y.person_id = p.id) AS owed) c
           WHERE b.owed <> c.owed`,
  },
  {
    name: 'nothing is held for a course that is over',
    sql: `SELECT format('%s holds %s though everything was supplied', account_code, -sum(amount_minor)) AS fault
            FROM posting WHERE account_code IN ('deposits-held', 'billed-in-advance')
             AND NOT EXISTS (SELECT 1 FROM charge c WHERE c.in_advance AND NOT EXISTS (SELECT 1 FROM supply s WHERE s.charge_id = c.id))
           GROUP BY account_code HAVING sum(amount_minor) <> 0`,
  },
  {
    name: 'every payment is for something, and nothing is overpaid',
    sql: `SELECT format('payment %s: %s is for nothing', p.id, p.amount_minor - x.used) AS fault
            FROM payment p, LATERAL (SELECT (SELECT coalesce(sum(amount_minor), 0) FROM allocation WHERE payment_id = p.id)
              + (SELECT coalesce(sum(amount_minor), 0) FROM voucher_move WHERE entry_id = p.entry_id AND kind = 'sold') AS used) x
           WHERE p.amount_minor <> x.used
          UNION ALL
          SELECT format('charge %s: %s asked, %s paid', c.id, s.asked, s.paid)
            FROM charge c, LATERAL (SELECT
              c.gross_minor - (SELECT coalesce(sum(amount_minor), 0) FROM credit WHERE charge_id = c.id) AS asked,
              (SELECT coalesce(sum(amount_minor), 0) FROM allocation WHERE charge_id = c.id) AS paid) s
           WHERE s.asked < 0 OR s.paid < 0 OR s.paid > s.asked`,
  },
  {
    name: 'what is left on a voucher is between nothing and its sum, and the books owe it',
    sql: `WITH held AS (
            SELECT v.*, coalesce(sum(m.amount_minor), 0) AS rest FROM voucher v LEFT JOIN voucher_move m ON m.voucher_id = v.id GROUP BY v.id)
          SELECT format('voucher %s of %s holds %s', code, amount_minor, rest) AS fault FROM held WHERE rest NOT BETWEEN 0 AND amount_minor
          UNION ALL
          SELECT format('vouchers-outstanding owes %s and the vouchers hold %s', b.owed, h.held)
            FROM (SELECT -coalesce(sum(amount_minor), 0) AS owed FROM posting WHERE account_code = 'vouchers-outstanding') b,
                 (SELECT coalesce(sum(rest - coalesce(round(rest * tax_percent / (100 + tax_percent)), 0)), 0) AS held FROM held) h
           WHERE b.owed <> h.held`,
  },
  {
    name: 'what a voucher paid came off it',
    sql: `SELECT format('payment %s by voucher: %s', p.id, p.amount_minor) AS fault
            FROM payment p LEFT JOIN voucher_move m ON m.entry_id = p.entry_id AND m.kind IN ('used', 'returned')
           WHERE (p.method = 'voucher' OR m.id IS NOT NULL) AND (p.method <> 'voucher' OR m.amount_minor IS DISTINCT FROM -p.amount_minor)
          UNION ALL
          SELECT format('voucher %s: %s %s without a payment', m.voucher_id, m.kind, m.amount_minor)
            FROM voucher_move m WHERE m.kind <> 'lapsed' AND NOT EXISTS (SELECT 1 FROM payment p WHERE p.entry_id = m.entry_id)`,
  },
  {
    name: 'receipts and credit notes are numbered without gaps',
    sql: `SELECT format('%s %s-%s follows %s', kind, series, number, previous) AS fault FROM (
            SELECT 'receipt' AS kind, series, number, lag(number, 1, 0) OVER (PARTITION BY series ORDER BY number) AS previous FROM receipt
            UNION ALL
            SELECT 'credit note', series, number, lag(number, 1, 0) OVER (PARTITION BY series ORDER BY number) FROM credit_note) n
           WHERE number <> previous + 1
          UNION ALL
          SELECT format('series %s ends with %s and the last paper has %s', s.series, s.last_number, n.number)
            FROM number_series s, LATERAL (SELECT coalesce(max(number), 0) AS number FROM (
              SELECT series, number FROM receipt UNION ALL SELECT series, number FROM credit_note) x WHERE x.series = s.series) n
           WHERE n.number <> s.last_number`,
  },
  {
    name: 'every payment that came in has its receipt',
    sql: `SELECT format('payment %s has none', p.id) AS fault FROM payment p
           WHERE p.amount_minor > 0 AND NOT EXISTS (SELECT 1 FROM receipt r WHERE r.payment_id = p.id)`,
  },
  ...VAT_INVARIANTS,
];
