import { Prisma } from '../../../database/generated/client.js';
import type { Transaction } from '../../../database/transaction.js';
import { overlap } from '../../../trade/money/membership-fee.js';

export type MemberTerms = {
  id: string;
  personId: string;
  startsOn: string;
  endsOn: string | null;
  pauses: { from: string; to: string }[];
  benchMinutes: number;
  firingLitres: string;
  clayId: string | null;
  clayGrams: number;
};

const INCLUDES = {
  bench: Prisma.sql`m.bench_minutes > 0`,
  firing: Prisma.sql`m.firing_litres > 0`,
  clay: Prisma.sql`m.clay_grams > 0`,
};

/** The memberships of people that include something, locked in id order: what is left of it is counted under that. */
export async function lockMembers(
  tx: Transaction,
  personIds: readonly string[],
  what: keyof typeof INCLUDES,
): Promise<MemberTerms[]> {
  return tx.$queryRaw<MemberTerms[]>`
    SELECT m.id::text, m.person_id::text AS "personId", m.starts_on::text AS "startsOn", m.ends_on::text AS "endsOn",
           coalesce((SELECT json_agg(json_build_object('from', p.from_on, 'to', p.to_on)) FROM membership_pause p
                      WHERE p.membership_id = m.id AND p.withdrawn_at IS NULL), '[]') AS pauses,
           m.bench_minutes AS "benchMinutes", m.firing_litres::text AS "firingLitres", m.clay_id::text AS "clayId",
           m.clay_grams AS "clayGrams"
      FROM membership m
     WHERE m.person_id = ANY(${personIds}::uuid[]) AND m.withdrawn_at IS NULL AND ${INCLUDES[what]}
     ORDER BY m.id FOR NO KEY UPDATE`;
}

/** Whether a membership includes anything on a day: it runs, and is not paused. */
export const includesOn = ({ startsOn, endsOn, pauses }: MemberTerms, day: string): boolean =>
  startsOn <= day &&
  (endsOn === null || day <= endsOn) &&
  !pauses.some((pause) => overlap(pause, { from: day, to: day }) !== null);

/** Minutes at a bench that a membership has left, by month; those of a booking that is being moved are free. */
export async function getBenchLeft(
  tx: Transaction,
  { id, benchMinutes }: MemberTerms,
  months: readonly string[],
  butBookingId: string | null,
): Promise<Map<string, number>> {
  const rows = await tx.$queryRaw<{ month: string; used: number }[]>`
    SELECT d.month::text, used_bench_minutes(${id}::uuid, d.month, ${butBookingId}::uuid)::int AS used
      FROM unnest(${[...new Set(months)]}::date[]) AS d (month)`;
  return new Map(rows.map(({ month, used }) => [month, benchMinutes - used]));
}

export async function getFiringLeftMm3(tx: Transaction, id: string, month: string): Promise<bigint> {
  const [row] = await tx.$queryRaw<{ left: string }[]>`
    SELECT floor(greatest(0, m.firing_litres * 1000000 - used_firing_mm3(m.id, ${month}::date)))::text AS left
      FROM membership m WHERE m.id = ${id}::uuid`;
  return BigInt(row?.left ?? 0);
}

export async function getClayLeftGrams(tx: Transaction, id: string, month: string): Promise<number> {
  const [row] = await tx.$queryRaw<{ left: number }[]>`
    SELECT greatest(0, m.clay_grams - used_clay_grams(m.id, ${month}::date))::int AS left FROM membership m WHERE m.id = ${id}::uuid`;
  return row?.left ?? 0;
}

/** A line of what was used in a month: what it was, how much of it was included, what that would have cost, and what was charged. */
export type UseRow = {
  what: 'bench' | 'firing' | 'clay';
  on: string;
  called: string;
  used: number;
  included: number;
  includedMinor: number;
  chargedMinor: number;
};

/**
 * What a member used in a month, and how much of it is included: their visits to open studio, their bills for firings, and the clay that
 * they took home. Visits count while their booking and session do; a firing in the month in which it was fired.
 */
export async function listUse(tx: Transaction, membershipId: string, month: string): Promise<UseRow[]> {
  const monthOf = (moment: Prisma.Sql) => Prisma.sql`date_trunc('month', ${moment} AT TIME ZONE st.time_zone)::date`;
  return tx.$queryRaw<UseRow[]>`
    WITH m AS MATERIALIZED (SELECT id, person_id, clay_id FROM membership WHERE id = ${membershipId}::uuid)
    SELECT 'bench' AS what, (s.starts_at AT TIME ZONE st.time_zone)::date::text AS on, c.title AS called,
           (extract(epoch FROM s.ends_at - s.starts_at) / 60)::float8 AS used, coalesce(v.minutes, 0)::float8 AS included,
           coalesce(v.included_minor, 0) AS "includedMinor",
           CASE WHEN s.ordinal = (SELECT min(x.ordinal) FROM session x WHERE x.course_id = c.id AND x.cancelled_at IS NULL)
                THEN coalesce(p.price_minor, 0) ELSE 0 END AS "chargedMinor"
      FROM m JOIN place p ON p.person_id = m.person_id JOIN booking b ON b.id = p.booking_id AND b.cancelled_at IS NULL
      JOIN course c ON c.id = b.course_id JOIN course_plan k ON k.id = c.plan_id AND k.kind = 'openStudio'
      JOIN session s ON s.course_id = c.id AND s.cancelled_at IS NULL
      LEFT JOIN membership_visit v ON v.place_id = p.id AND v.session_id = s.id AND v.membership_id = m.id CROSS JOIN studio st
     WHERE coalesce(v.month, ${monthOf(Prisma.sql`s.starts_at`)}) = ${month}::date
    UNION ALL
    SELECT 'firing', (g.started_at AT TIME ZONE st.time_zone)::date::text, c.description,
           coalesce(u.billed_mm3, (SELECT sum(h.weight_mm3) FROM share h WHERE h.firing_id = g.id AND h.person_id = m.person_id), 0)::float8,
           coalesce(u.mm3, 0)::float8, coalesce(r.amount_minor, 0), c.gross_minor - coalesce(r.amount_minor, 0)
      FROM m JOIN firing_charge f ON f.person_id = m.person_id JOIN charge c ON c.id = f.charge_id JOIN firing g ON g.id = f.firing_id
      LEFT JOIN membership_firing u ON u.charge_id = c.id AND u.membership_id = m.id LEFT JOIN credit r ON r.id = u.credit_id
     CROSS JOIN studio st
     WHERE g.started_at IS NOT NULL AND coalesce(u.month, ${monthOf(Prisma.sql`g.started_at`)}) = ${month}::date
    UNION ALL
    SELECT 'clay', c.charged_on::text, c.description, k.quantity::float8, least(coalesce(u.grams, 0), k.quantity)::float8,
           k.asked - k.beyond, k.beyond
      FROM m JOIN charge c ON c.person_id = m.person_id JOIN sale s ON s.charge_id = c.id AND s.material_id = m.clay_id
      LEFT JOIN membership_clay u ON u.sale_id = s.id AND u.membership_id = m.id, LATERAL (
        SELECT q.quantity, round(s.price_minor::numeric * q.quantity / 1000)::int AS asked,
               round(s.price_minor::numeric * greatest(0, q.quantity - coalesce(u.grams, 0)) / 1000)::int AS beyond
          FROM (SELECT s.quantity - coalesce(sum(t.quantity), 0)::int AS quantity FROM taking_back t WHERE t.sale_id = s.id) q) k
     WHERE coalesce(u.month, date_trunc('month', c.charged_on)::date) = ${month}::date AND k.quantity > 0
     ORDER BY 2, 1, 3`;
}

/** Visits that were booked as included on days after one, or within some: what is in the way of an end or a pause. */
export async function listVisits(
  tx: Transaction,
  membershipId: string,
  days: { from: string; to: string | null },
): Promise<{ day: string; title: string }[]> {
  return tx.$queryRaw<{ day: string; title: string }[]>`
    SELECT d.day::text, c.title FROM membership_visit v JOIN place p ON p.id = v.place_id JOIN booking b ON b.id = p.booking_id
      JOIN session s ON s.id = v.session_id JOIN course c ON c.id = s.course_id CROSS JOIN studio st,
      LATERAL (SELECT (s.starts_at AT TIME ZONE st.time_zone)::date AS day) d
     WHERE v.membership_id = ${membershipId}::uuid AND b.cancelled_at IS NULL AND s.cancelled_at IS NULL
       AND d.day >= ${days.from}::date AND (${days.to}::date IS NULL OR d.day <= ${days.to}::date) ORDER BY d.day, c.title`;
}
