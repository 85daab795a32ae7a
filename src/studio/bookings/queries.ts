import type { Transaction } from '../../database/transaction.js';

export interface UnpaidRefill {
  bookingId: string;
  personId: string;
  personName: string;
  what: string;
  amountMinor: number;
  since: Date;
}

/**
 * What is to be paid back since places that were given up are filled again, a row for each booking, whoever has waited longest first.
 * One statement: with Prisma's relations it would be five, on every look at the day.
 */
export async function unpaidRefills(tx: Transaction): Promise<UnpaidRefill[]> {
  return tx.$queryRaw<UnpaidRefill[]>`
    SELECT r.booking_id::text AS "bookingId", b.payer_id::text AS "personId", p.name AS "personName", c.description AS what,
           sum(r.amount_minor)::float8 AS "amountMinor", min(r.filled_at) AS since
      FROM place_refill r
      JOIN booking b ON b.id = r.booking_id
      JOIN person p ON p.id = b.payer_id
      JOIN charge c ON c.id = b.charge_id
     WHERE r.amount_minor > 0 AND NOT EXISTS (SELECT FROM refill_refund paid WHERE paid.refill_id = r.id)
     GROUP BY r.booking_id, b.payer_id, p.name, c.description
     ORDER BY since, r.booking_id`;
}
