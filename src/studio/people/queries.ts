import { type FoundPage, findPage, matches } from '../../database/find-page.js';
import { Prisma } from '../../database/generated/client.js';
import type { Transaction } from '../../database/transaction.js';
import { personPatterns } from '../../trade/text/search-text.js';
import { isCode, normaliseCode } from '../../trade/text/ware-code.js';
import type { KnownPerson, PersonQuery } from './contract.js';

/** Keeps others from changing the person until this transaction ends; whoever only refers to them is let in. */
export async function lockPersonRow(tx: Transaction, id: string): Promise<void> {
  await tx.$queryRaw`SELECT id FROM person WHERE id = ${id}::uuid FOR NO KEY UPDATE`;
}

/** People by their ids, in no order. By hand, since every booking and payment asks for somebody. */
export async function readPeople(tx: Transaction, ids: readonly string[]): Promise<KnownPerson[]> {
  return tx.$queryRaw<KnownPerson[]>`
    SELECT id::text, name, email, phone, address_lines AS "addressLines", paper_name AS "paperName",
           member_since::text AS "memberSince", is_child AS "isChild", wishes, note,
           is_child AND NOT EXISTS (SELECT FROM guardian g WHERE g.child_id = person.id) AS "lacksGuardian"
      FROM person WHERE id = ANY(${ids}::uuid[])`;
}

/** The person whom an entry was merged into that is there no more. */
export async function findMergedInto(tx: Transaction, id: string): Promise<{ id: string; name: string } | undefined> {
  const rows = await tx.$queryRaw<{ id: string; name: string }[]>`
    SELECT p.id::text, p.name FROM person_merge m JOIN person p ON p.id = m.into_id WHERE m.id = ${id}::uuid`;
  return rows[0];
}

const isOpenNow = (now: Date) => Prisma.sql`(
  o.ends_on IS NULL OR o.ends_on >= (${now}::timestamptz AT TIME ZONE (SELECT time_zone FROM studio))::date)`;

/** A member is who is noted as one, unless their membership here has ended. */
const ofKind = (kind: NonNullable<PersonQuery['kind']>, now: Date): Prisma.Sql =>
  ({
    member: Prisma.sql`p.member_since IS NOT NULL AND (
      NOT EXISTS (SELECT FROM membership o WHERE o.person_id = p.id AND o.withdrawn_at IS NULL)
      OR EXISTS (SELECT FROM membership o WHERE o.person_id = p.id AND o.withdrawn_at IS NULL AND ${isOpenNow(now)}))`,
    student: Prisma.sql`EXISTS (SELECT FROM place o WHERE o.person_id = p.id)`,
    maker: Prisma.sql`EXISTS (SELECT FROM piece o WHERE o.maker_id = p.id)`,
  })[kind];

export function findPeople(tx: Transaction, now: Date, query: PersonQuery): Promise<FoundPage> {
  const { q, kind, order } = query;
  return findPage(
    tx,
    {
      ...{ from: Prisma.sql`person p`, id: Prisma.sql`p.id` },
      where: [q !== undefined && named(q), kind && ofKind(kind, now)],
      ...(order === 'name' && { order: { by: Prisma.sql`p.name_key`, as: 'text' } }),
    },
    query,
  );
}

/** Whom a few words mean: by their name, address or number, or as the maker of the piece that has this code. */
function named(q: string): Prisma.Sql {
  const code = normaliseCode(q);
  const words = matches(Prisma.sql`p.search`, personPatterns(q));
  if (!isCode(code)) return words;
  return Prisma.sql`p.id IN (SELECT p.id FROM person p WHERE ${words} UNION ${makerOf(code)})`;
}

/** Who made the piece with this code. */
export const makerOf = (code: string): Prisma.Sql => Prisma.sql`SELECT maker_id FROM piece WHERE code = ${code}`;

/** The people in whose name, address or phone each of these is found; for use as `x IN (...)`. */
export const personMatches = (...patterns: string[]): Prisma.Sql =>
  Prisma.sql`SELECT id FROM person WHERE ${matches(Prisma.sql`search`, patterns)}`;
