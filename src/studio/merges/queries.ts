import { Prisma } from '../../database/generated/client.js';
import type { Transaction } from '../../database/transaction.js';
import { newId } from '../../http/ids.js';

type Pair = { goneId: string; staysId: string };

/** Keeps two people and whatever refers to them as they are: a booking of either waits, and then finds who stays. */
export async function lockBoth(tx: Transaction, { goneId, staysId }: Pair): Promise<void> {
  await tx.$queryRaw`
    SELECT id FROM person WHERE id IN (${goneId}::uuid, ${staysId}::uuid) ORDER BY id FOR UPDATE`;
}

/** Where one of two people has a place, waits or makes a session up, and the other has a place too. In the order of locks. */
export async function listSharedCourses(tx: Transaction, { goneId, staysId }: Pair): Promise<string[]> {
  const of = (id: string) => Prisma.sql`
    SELECT b.course_id FROM place p JOIN booking b ON b.id = p.booking_id WHERE p.person_id = ${id}::uuid AND b.cancelled_at IS NULL
    UNION SELECT course_id FROM waiting_entry WHERE person_id = ${id}::uuid AND ended_at IS NULL
    UNION SELECT s.course_id FROM make_up m JOIN session s ON s.id = m.session_id
           WHERE m.person_id = ${id}::uuid AND m.ended_at IS NULL`;
  const rows = await tx.$queryRaw<{ id: string }[]>`
    SELECT course_id::text AS id FROM ((${of(goneId)}) INTERSECT (${of(staysId)})) shared ORDER BY 1`;
  return rows.map(({ id }) => id);
}

export type Clash = {
  title: string;
  firstStartsAt: Date;
  isOver: boolean;
  /** what each of the two has there */
  gone: 'place' | 'wait' | 'makeUp';
  stays: 'place' | 'wait' | 'makeUp';
};

/** What both have in one course, or in one session of it, and one person can't have twice. */
export async function listClashes(tx: Transaction, { goneId, staysId }: Pair, now: Date): Promise<Clash[]> {
  const of = (id: string) => Prisma.sql`
    SELECT b.course_id, NULL::uuid AS session_id, 'place' AS what FROM place p JOIN booking b ON b.id = p.booking_id
     WHERE p.person_id = ${id}::uuid AND b.cancelled_at IS NULL
    UNION ALL SELECT course_id, NULL, 'wait' FROM waiting_entry WHERE person_id = ${id}::uuid AND ended_at IS NULL
    UNION ALL SELECT s.course_id, s.id, 'makeUp' FROM make_up m JOIN session s ON s.id = m.session_id
               WHERE m.person_id = ${id}::uuid AND m.ended_at IS NULL`;
  return tx.$queryRaw<Clash[]>`
    SELECT c.title, g.what AS gone, s.what AS stays,
           (SELECT min(starts_at) FROM session x WHERE x.course_id = c.id) AS "firstStartsAt",
           (SELECT max(ends_at) FROM session x WHERE x.course_id = c.id) <= ${now} AS "isOver"
      FROM (${of(goneId)}) g JOIN (${of(staysId)}) s USING (course_id) JOIN course c ON c.id = course_id
     WHERE CASE WHEN 'place' IN (g.what, s.what) THEN true
                WHEN g.what = 'makeUp' THEN g.session_id = s.session_id ELSE g.what = s.what END
     ORDER BY "firstStartsAt", c.id`;
}

/** A membership of each that run at the same time, which one person can't have. */
export async function findMembershipClash(
  tx: Transaction,
  { goneId, staysId }: Pair,
): Promise<{ gone: string; stays: string } | undefined> {
  const [clash] = await tx.$queryRaw<{ gone: string; stays: string }[]>`
    SELECT k.name AS gone, l.name AS stays FROM membership g JOIN membership_kind k ON k.id = g.kind_id
      JOIN membership s ON s.person_id = ${staysId}::uuid AND s.withdrawn_at IS NULL
       AND daterange(s.starts_on, s.ends_on, '[]') && daterange(g.starts_on, g.ends_on, '[]')
      JOIN membership_kind l ON l.id = s.kind_id
     WHERE g.person_id = ${goneId}::uuid AND g.withdrawn_at IS NULL ORDER BY g.starts_on LIMIT 1`;
  return clash;
}

/** What somebody owes by the books: each posting ever made of theirs. */
export async function getBalanceMinor(tx: Transaction, personId: string): Promise<number> {
  const { _sum } = await tx.posting.aggregate({ where: { personId }, _sum: { amountMinor: true } });
  return _sum.amountMinor ?? 0;
}

/** Of a session that both were invited to, the invitation of the one who stays is kept. */
export async function dropDoubleEntries(tx: Transaction, { goneId, staysId }: Pair): Promise<void> {
  await tx.$executeRaw`
    DELETE FROM calendar_entry g USING calendar_entry s
     WHERE g.person_id = ${goneId}::uuid AND s.person_id = ${staysId}::uuid AND s.session_id = g.session_id`;
}

/** Moves whatever refers to one person to the other. @returns the keys of the rows, by table and column */
export async function moveRows(tx: Transaction, { goneId, staysId }: Pair): Promise<Record<string, string[]>> {
  await tx.$executeRaw`SET CONSTRAINTS ALL DEFERRED`; // places, waits and make-ups are judged once all of them are there
  const [row] = await tx.$queryRaw<{ moved: Record<string, string[]> }[]>`
    SELECT move_person(${goneId}::uuid, ${staysId}::uuid) AS moved`;
  return row?.moved ?? {};
}

/**
 * Where both were noted on the register of one session, the later entry would now count, though it may be of a place that was
 * cancelled. What was noted of the one who has the place is noted once more. Do this before the rows are moved.
 */
export async function noteAttendanceAgain(tx: Transaction, { goneId, staysId }: Pair, now: Date, memberId: string) {
  const rows = await tx.$queryRaw<{ sessionId: string; personId: string; came: boolean | null }[]>`
    SELECT DISTINCT ON (a.session_id) a.session_id::text AS "sessionId", a.person_id::text AS "personId", a.came
      FROM attendance a JOIN session s ON s.id = a.session_id
     WHERE a.person_id IN (${goneId}::uuid, ${staysId}::uuid) AND s.cancelled_at IS NULL
       AND EXISTS (SELECT FROM attendance o WHERE o.session_id = a.session_id AND o.person_id <> a.person_id
                      AND o.person_id IN (${goneId}::uuid, ${staysId}::uuid))
       AND EXISTS (SELECT FROM place p JOIN booking b ON b.id = p.booking_id
                    WHERE p.person_id = a.person_id AND b.course_id = s.course_id AND b.cancelled_at IS NULL)
     ORDER BY a.session_id, a.noted_at DESC, a.id DESC`;
  await tx.attendance.createMany({
    data: rows.map((row) => ({ id: newId(), ...row, notedAt: now, receivedAt: now, notedById: memberId })),
  });
}

type DoubleRow = { oneId: string; otherId: string; sameName: boolean; sameEmail: boolean; samePhone: boolean };

/** The latest entries are looked at, each against all: who is there twice was mostly entered a short while ago. */
export const LOOKED_AT_MAX = 1000;
/** An address or a number that more share is that of a firm or a school. */
const SHARED_MAX = 6;

/**
 * Pairs of entries that have a name, an email address or a phone number in common: those with most in common first; all, or those of
 * one person. Two who were told apart, or were on one course together, are not among them. Each key is looked up in its index for each
 * entry, so that the whole table is never read.
 */
export function findDoubles(tx: Transaction, limit: number, personId?: string): Promise<DoubleRow[]> {
  const entries =
    personId === undefined
      ? Prisma.sql`SELECT * FROM person ORDER BY id DESC LIMIT ${LOOKED_AT_MAX}`
      : Prisma.sql`SELECT * FROM person WHERE id = ${personId}::uuid`;
  const sharing = (key: Prisma.Sql) => Prisma.sql`
    SELECT least(e.id, o.id) AS one_id, greatest(e.id, o.id) AS other_id FROM entry e
      CROSS JOIN LATERAL (SELECT id, count(*) OVER () AS sharing FROM (
        SELECT id FROM person p WHERE p.${key} = e.${key} ORDER BY p.${key}, p.id LIMIT ${SHARED_MAX + 1}) s) o
     WHERE o.id <> e.id AND o.sharing <= ${SHARED_MAX}`;
  const [name, email, phone] = [Prisma.sql`name_key`, Prisma.sql`email_key`, Prisma.sql`phone_key`];
  return tx.$queryRaw<DoubleRow[]>`
    WITH entry AS (${entries}),
    pair AS MATERIALIZED (${sharing(name)} UNION ${sharing(email)} UNION ${sharing(phone)})
    SELECT a.id::text AS "oneId", b.id::text AS "otherId", a.name_key = b.name_key AS "sameName",
           coalesce(a.email_key = b.email_key, false) AS "sameEmail", coalesce(a.phone_key = b.phone_key, false) AS "samePhone"
      FROM pair
      CROSS JOIN LATERAL (SELECT * FROM person WHERE id = pair.one_id LIMIT 1) a
      CROSS JOIN LATERAL (SELECT * FROM person WHERE id = pair.other_id LIMIT 1) b
     WHERE NOT EXISTS (SELECT FROM two_people t WHERE t.one_id = a.id AND t.other_id = b.id)
       AND NOT EXISTS (SELECT FROM place p JOIN booking x ON x.id = p.booking_id JOIN booking y ON y.course_id = x.course_id
                         JOIN place q ON q.booking_id = y.id AND q.person_id = b.id
                        WHERE p.person_id = a.id AND x.cancelled_at IS NULL AND y.cancelled_at IS NULL LIMIT 1)
     ORDER BY (a.name_key = b.name_key)::int + coalesce((a.email_key = b.email_key)::int, 0) + coalesce((a.phone_key = b.phone_key)::int, 0) DESC,
              a.name_key, a.id, b.id
     LIMIT ${limit}`;
}
