import type { Invariant } from '../../database/invariant.js';
import { USE_INVARIANTS } from './use/invariants.js';

/** What must always hold of memberships and what is charged for them. */
export const invariants: readonly Invariant[] = [
  {
    name: 'a month of a membership is charged to its member, for what its days come to in the end',
    sql: `SELECT format('membership %s, %s: %s is asked and its days come to %s', m.id, d.month, c.gross_minor - x.credited, x.counted) AS fault
            FROM membership_month d JOIN membership m ON m.id = d.membership_id JOIN charge c ON c.id = d.charge_id, LATERAL (SELECT
              (SELECT coalesce(sum(amount_minor), 0) FROM credit WHERE charge_id = c.id) AS credited,
              coalesce((SELECT h.amount_minor FROM membership_month_change h
                         WHERE h.membership_id = d.membership_id AND h.month = d.month ORDER BY h.id DESC LIMIT 1), d.amount_minor) AS counted) x
           WHERE c.gross_minor - x.credited <> x.counted OR c.person_id <> m.person_id OR c.kind <> 'membership'
          UNION ALL
          SELECT format('charge %s belongs to no membership', c.id) FROM charge c
           WHERE c.kind = 'membership' AND NOT EXISTS (SELECT FROM membership_month d WHERE d.charge_id = c.id)
          UNION ALL
          SELECT format('membership %s: %s is charged outside it', m.id, d.month) FROM membership_month d JOIN membership m ON m.id = d.membership_id
           WHERE m.withdrawn_at IS NOT NULL OR d.month < date_trunc('month', m.charged_from)
              OR (d.month > m.ends_on AND NOT EXISTS (SELECT FROM membership_month_change h
                                                       WHERE h.membership_id = d.membership_id AND h.month = d.month)
                  AND d.amount_minor > 0)`,
  },
  {
    name: 'a change of a month takes off what its credit says',
    sql: `SELECT format('membership %s, %s: a change belongs to a credit of another charge', h.membership_id, h.month) AS fault
            FROM membership_month_change h JOIN membership_month d ON d.membership_id = h.membership_id AND d.month = h.month
            JOIN credit r ON r.id = h.credit_id WHERE r.charge_id IS DISTINCT FROM d.charge_id
          UNION ALL
          SELECT format('membership %s, %s: %s by %s days and %s paused', h.membership_id, h.month, h.amount_minor, h.full_days, h.paused_days)
            FROM membership_month_change h JOIN membership_month d ON d.membership_id = h.membership_id AND d.month = h.month
           WHERE h.amount_minor <> round(d.fee_minor * (h.full_days * 100 + h.paused_days * d.pause_percent) / (100 * d.month_days))`,
  },
  {
    name: 'a membership has a fee from its first month, and its pauses are within it',
    sql: `SELECT format('membership %s has no fee for its first month', m.id) AS fault FROM membership m
           WHERE NOT EXISTS (SELECT FROM membership_fee f WHERE f.membership_id = m.id AND f.from_month <= m.starts_on)
          UNION ALL
          SELECT format('membership %s is paused outside it', m.id) FROM membership m JOIN membership_pause p ON p.membership_id = m.id
           WHERE p.withdrawn_at IS NULL AND (p.from_on < m.starts_on OR p.to_on > m.ends_on OR m.withdrawn_at IS NOT NULL)
          UNION ALL
          SELECT format('kind of membership %s has no fee', k.id) FROM membership_kind k
           WHERE NOT EXISTS (SELECT FROM membership_kind_fee f WHERE f.kind_id = k.id)`,
  },
  ...USE_INVARIANTS,
];
