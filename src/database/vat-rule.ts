/**
 * What the books owe of VAT, reckoned afresh from what was paid in advance and asked for what was supplied: of each charge split over
 * its parts in turn, as splitInTurn in trade/money.ts does, with what is left on vouchers and what lapsed.
 */
export const VAT_RULE = {
  name: 'the books owe the VAT of what was paid and supplied',
  sql: `WITH RECURSIVE taxed AS (
          SELECT c.id, c.gross_minor, CASE WHEN c.in_advance AND NOT EXISTS (SELECT 1 FROM supply WHERE charge_id = c.id)
            THEN (SELECT coalesce(sum(amount_minor), 0) FROM allocation WHERE charge_id = c.id)
            ELSE c.gross_minor - (SELECT coalesce(sum(amount_minor), 0) FROM credit WHERE charge_id = c.id) END AS minor FROM charge c),
        part AS (
          SELECT c.id, 0 AS ordinal, c.tax_percent AS percent,
                 c.gross_minor - (SELECT coalesce(sum(gross_minor), 0) FROM charge_part WHERE charge_id = c.id) AS weight FROM charge c
          UNION ALL SELECT charge_id, ordinal, tax_percent, gross_minor FROM charge_part),
        split (id, ordinal, rest, open, minor, percent) AS (
          SELECT id, -1, minor::numeric, gross_minor::numeric, 0::numeric, NULL::numeric FROM taxed
          UNION ALL
          SELECT s.id, p.ordinal, s.rest - x.minor, s.open - p.weight, x.minor, p.percent
            FROM split s JOIN part p ON p.id = s.id AND p.ordinal = s.ordinal + 1,
            LATERAL (SELECT CASE WHEN s.open = 0 THEN 0 ELSE div(2 * s.rest * p.weight + s.open, 2 * s.open) END AS minor) x),
        bears (minor) AS (
          SELECT round(minor * percent / (100 + percent)) FROM split WHERE percent IS NOT NULL
          UNION ALL
          SELECT round(sum(m.amount_minor) * v.tax_percent / (100 + v.tax_percent))
            FROM voucher v JOIN voucher_move m ON m.voucher_id = v.id WHERE v.tax_percent IS NOT NULL GROUP BY v.id
          UNION ALL
          SELECT p.amount_minor - m.amount_minor
            FROM voucher_move m JOIN posting p ON p.entry_id = m.entry_id AND p.account_code = 'vouchers-lapsed' WHERE m.kind = 'lapsed')
        SELECT format('%s is owed, and what was paid and supplied bears %s', owed.minor, due.minor) AS fault
          FROM (SELECT -coalesce(sum(amount_minor), 0) AS minor FROM posting WHERE account_code = 'vat') owed,
               (SELECT coalesce(sum(minor), 0) AS minor FROM bears) due
         WHERE owed.minor <> due.minor`,
};
