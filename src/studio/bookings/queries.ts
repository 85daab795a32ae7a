import { type FoundPage, findPage, within } from '../../database/find-page.js';
import { Prisma } from '../../database/generated/client.js';
import type { Transaction } from '../../database/transaction.js';
import { searchPatterns } from '../../trade/text/search-text.js';
import { courseMatches } from '../courses/queries.js';
import { personMatches } from '../people/queries.js';
import type { BookingQuery } from './contract.js';

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

const isPaid = Prisma.sql`
  b.deposit_minor <= (SELECT coalesce(sum(a.amount_minor), 0) FROM allocation a WHERE a.charge_id = b.charge_id)`;

/** What waits for its deposit is among the open charges: they are few, of bookings that may be very many. */
const STATES: Record<NonNullable<BookingQuery['state']>, Prisma.Sql> = {
  cancelled: Prisma.sql`b.cancelled_at IS NOT NULL`,
  confirmed: Prisma.sql`b.cancelled_at IS NULL AND ${isPaid}`,
  provisional: Prisma.sql`
    b.cancelled_at IS NULL AND b.charge_id IN (SELECT charge_id FROM open_charge) AND NOT (${isPaid})`,
};

const ofPeople = (people: Prisma.Sql) => Prisma.sql`
  SELECT k.id FROM booking k WHERE k.payer_id IN (${people})
  UNION ALL SELECT p.booking_id FROM place p WHERE p.person_id IN (${people})`;

/** Bookings, the latest first. */
export function findBookings(
  tx: Transaction,
  query: BookingQuery,
  days: { from?: Date; before?: Date },
): Promise<FoundPage> {
  const { q, courseId, personId, state } = query;
  const words = q === undefined ? [] : searchPatterns(q);
  const like = (word: string) => Prisma.sql`b.id IN (
    ${ofPeople(personMatches(word))}
    UNION ALL SELECT k.id FROM booking k WHERE k.course_id IN (${courseMatches(word)}))`;
  return findPage(
    tx,
    {
      ...{ from: Prisma.sql`booking b`, id: Prisma.sql`b.id` },
      where: [
        ...words.map(like),
        q !== undefined && words.length === 0 && Prisma.sql`false`,
        courseId !== undefined && Prisma.sql`b.course_id = ${courseId}::uuid`,
        personId !== undefined && Prisma.sql`b.id IN (${ofPeople(Prisma.sql`${personId}::uuid`)})`,
        state && STATES[state],
        within(Prisma.sql`b.booked_at`, days),
      ],
      order: { by: Prisma.sql`b.booked_at`, as: 'timestamptz', isDown: true },
    },
    query,
  );
}
