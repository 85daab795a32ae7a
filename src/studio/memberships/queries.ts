import { type FoundPage, findPage, matches } from '../../database/find-page.js';
import { Prisma } from '../../database/generated/client.js';
import type { Transaction } from '../../database/transaction.js';
import { personPatterns } from '../../trade/text/search-text.js';
import type { MembershipQuery } from './contract.js';

/** How many have a membership of each kind that has not ended by a day. */
export async function countMembers(tx: Transaction, today: string): Promise<Map<string, number>> {
  const rows = await tx.$queryRaw<{ kindId: string; members: number }[]>`
    SELECT m.kind_id::text AS "kindId", count(*)::int AS members FROM membership m WHERE ${isOpen(today)} GROUP BY m.kind_id`;
  return new Map(rows.map(({ kindId, members }) => [kindId, members]));
}

const isOpen = (today: string) =>
  Prisma.sql`m.withdrawn_at IS NULL AND (m.ends_on IS NULL OR m.ends_on >= ${today}::date)`;

/** Memberships by their members' names. */
export function findMemberships(tx: Transaction, today: string, query: MembershipQuery): Promise<FoundPage> {
  const { q, personId, kindId, which } = query;
  return findPage(
    tx,
    {
      ...{ from: Prisma.sql`membership m JOIN person p ON p.id = m.person_id`, id: Prisma.sql`m.id` },
      where: [
        which === 'open' && isOpen(today),
        which === 'ended' && Prisma.sql`NOT (${isOpen(today)})`,
        q !== undefined && matches(Prisma.sql`p.search`, personPatterns(q)),
        personId !== undefined && Prisma.sql`m.person_id = ${personId}::uuid`,
        kindId !== undefined && Prisma.sql`m.kind_id = ${kindId}::uuid`,
      ],
      order: { by: Prisma.sql`p.name_key`, as: 'text' },
    },
    query,
  );
}

/** Memberships of which a month has begun that is not charged yet, by a day. Months are charged in their order. */
export async function listToCharge(tx: Transaction, today: string): Promise<string[]> {
  const rows = await tx.$queryRaw<{ id: string }[]>`
    SELECT m.id::text FROM membership m
     WHERE m.withdrawn_at IS NULL AND m.charged_from <= least(${today}::date, m.ends_on)
       AND date_trunc('month', least(${today}::date, m.ends_on)) > coalesce(
             (SELECT max(d.month) FROM membership_month d WHERE d.membership_id = m.id), '0001-01-01')
     ORDER BY m.id`;
  return rows.map(({ id }) => id);
}

/** Charges of months that are over by a day, and of which that is not noted. */
export async function listToSupply(tx: Transaction, today: string): Promise<string[]> {
  const rows = await tx.$queryRaw<{ id: string }[]>`
    SELECT d.charge_id::text AS id FROM membership_month d
     WHERE d.charge_id IS NOT NULL AND d.month + interval '1 month' <= ${today}::date
       AND NOT EXISTS (SELECT FROM supply s WHERE s.charge_id = d.charge_id)
     ORDER BY d.month, d.charge_id`;
  return rows.map(({ id }) => id);
}

/** What is owed of each membership's charges; one that owes nothing is left out. */
export async function listOwed(tx: Transaction, membershipIds: readonly string[]): Promise<Map<string, number>> {
  const rows = await tx.$queryRaw<{ id: string; owed: number }[]>`
    SELECT d.membership_id::text AS id,
           sum(c.gross_minor - (SELECT coalesce(sum(amount_minor), 0) FROM credit WHERE charge_id = c.id)
                             - (SELECT coalesce(sum(amount_minor), 0) FROM allocation WHERE charge_id = c.id))::float8 AS owed
      FROM membership_month d JOIN open_charge o ON o.charge_id = d.charge_id JOIN charge c ON c.id = d.charge_id
     WHERE d.membership_id = ANY(${membershipIds}::uuid[]) GROUP BY d.membership_id`;
  return new Map(rows.map(({ id, owed }) => [id, owed]));
}

/** Who has a shelf on a day or later, or null. */
export async function findShelfHolder(
  tx: Transaction,
  boardId: string,
  days: { from: string; to: string | null },
  but: string | null,
): Promise<string | null> {
  const [holder] = await tx.$queryRaw<{ name: string }[]>`
    SELECT p.name FROM membership m JOIN person p ON p.id = m.person_id
     WHERE m.board_id = ${boardId}::uuid AND m.withdrawn_at IS NULL AND m.id IS DISTINCT FROM ${but}::uuid
       AND daterange(m.starts_on, m.ends_on, '[]') && daterange(${days.from}::date, ${days.to}::date, '[]') LIMIT 1`;
  return holder?.name ?? null;
}
