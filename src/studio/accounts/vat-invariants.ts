/**
 * What the books owe of VAT, worked out afresh day by day: of each charge what was paid in advance, and once it is supplied what was
 * asked for it, split over its parts in turn, as splitInTurn in trade/money/money.ts does; with what is left on vouchers and what lapsed.
 * So the books have VAT on the very day that trade/money/tax-point.ts names, not only the right sum in the end.
 */
const BOOKS = {
  name: 'the books have the VAT of what was paid and supplied, on the day of its tax point',
  sql: `WITH RECURSIVE day (id, day) AS (
          SELECT id, charged_on FROM charge
          UNION SELECT a.charge_id, p.received_on FROM allocation a JOIN payment p ON p.id = a.payment_id
          UNION SELECT charge_id, credited_on FROM credit
          UNION SELECT charge_id, supplied_on FROM supply),
        taxed AS (
          SELECT c.id, d.day, c.gross_minor, CASE
            WHEN c.in_advance AND NOT EXISTS (SELECT 1 FROM supply s WHERE s.charge_id = c.id AND s.supplied_on <= d.day)
              THEN (SELECT coalesce(sum(a.amount_minor), 0) FROM allocation a JOIN payment p ON p.id = a.payment_id
                     WHERE a.charge_id = c.id AND p.received_on <= d.day)
            WHEN c.charged_on > d.day THEN 0
            ELSE c.gross_minor - (SELECT coalesce(sum(amount_minor), 0) FROM credit WHERE charge_id = c.id AND credited_on <= d.day)
            END AS minor FROM charge c JOIN day d ON d.id = c.id),
        part AS (
          SELECT c.id, 0 AS ordinal, c.tax_percent AS percent,
                 c.gross_minor - (SELECT coalesce(sum(gross_minor), 0) FROM charge_part WHERE charge_id = c.id) AS weight FROM charge c
          UNION ALL SELECT charge_id, ordinal, tax_percent, gross_minor FROM charge_part),
        split (id, day, ordinal, rest, open, minor, percent) AS (
          SELECT id, day, -1, minor::numeric, gross_minor::numeric, 0::numeric, NULL::numeric FROM taxed
          UNION ALL
          SELECT s.id, s.day, p.ordinal, s.rest - x.minor, s.open - p.weight, x.minor, p.percent
            FROM split s JOIN part p ON p.id = s.id AND p.ordinal = s.ordinal + 1,
            LATERAL (SELECT CASE WHEN s.open = 0 THEN 0 ELSE div(2 * s.rest * p.weight + s.open, 2 * s.open) END AS minor) x),
        so_far (id, day, minor) AS (
          SELECT id, day, coalesce(sum(round(minor * percent / (100 + percent))), 0) FROM split GROUP BY id, day
          UNION ALL
          SELECT v.id, m.moved_on, round(sum(sum(m.amount_minor)) OVER (PARTITION BY v.id ORDER BY m.moved_on)
                 * v.tax_percent / (100 + v.tax_percent))
            FROM voucher v JOIN voucher_move m ON m.voucher_id = v.id WHERE v.tax_percent IS NOT NULL GROUP BY v.id, m.moved_on),
        due (day, minor) AS (
          SELECT day, minor - lag(minor, 1, 0) OVER (PARTITION BY id ORDER BY day) FROM so_far
          UNION ALL
          SELECT m.moved_on, p.amount_minor - m.amount_minor
            FROM voucher_move m JOIN posting p ON p.entry_id = m.entry_id AND p.account_code = 'vouchers-lapsed' WHERE m.kind = 'lapsed'
          UNION ALL
          SELECT e.posted_on, p.amount_minor FROM posting p JOIN journal_entry e ON e.id = p.entry_id WHERE p.account_code = 'vat')
        SELECT format('on %s the books are off by %s from the VAT of what was paid and supplied', day, sum(minor)) AS fault
          FROM due GROUP BY day HAVING sum(minor) <> 0 ORDER BY day`,
};

/** Receipts print the day on which the books have their VAT. */
const PAPERS = {
  name: 'receipts print the tax point that the books go by',
  sql: `SELECT format('receipt %s has the tax point %s, which is none of what it is for', r.number, line ->> 'taxPoint') AS fault
          FROM receipt r JOIN document d ON d.id = r.document_id JOIN payment p ON p.id = r.payment_id,
               LATERAL jsonb_array_elements(d.content -> 'lines') line
         WHERE line ->> 'taxPoint' IS NOT NULL
           AND NOT EXISTS (
             SELECT 1 FROM allocation a JOIN charge c ON c.id = a.charge_id LEFT JOIN supply s ON s.charge_id = c.id
              WHERE a.payment_id = p.id AND (line ->> 'taxPoint')::date
                    = least(p.received_on, CASE WHEN c.in_advance THEN s.supplied_on ELSE c.charged_on END))
           AND NOT EXISTS (
             SELECT 1 FROM voucher_move m
              WHERE m.entry_id = p.entry_id AND m.kind = 'sold' AND m.moved_on = (line ->> 'taxPoint')::date)`,
};

export const VAT_INVARIANTS = [BOOKS, PAPERS];
