import { type FoundPage, findPage } from '../../database/find-page.js';
import { Prisma } from '../../database/generated/client.js';
import type { Transaction } from '../../database/transaction.js';
import type { PlaceRequestQuery } from './contract.js';

/** In the order in which they were asked. */
export function findRequests(tx: Transaction, query: PlaceRequestQuery): Promise<FoundPage> {
  const { state } = query;
  return findPage(
    tx,
    {
      from: Prisma.sql`place_request r`,
      id: Prisma.sql`r.id`,
      where: [
        state === 'open' && Prisma.sql`r.answered_at IS NULL`,
        state === 'answered' && Prisma.sql`r.answered_at IS NOT NULL`,
      ],
    },
    query,
  );
}

/** Until this transaction ends nobody else can answer it. */
export async function lockRequest(tx: Transaction, id: string): Promise<void> {
  await tx.$queryRaw`SELECT 1 FROM place_request WHERE id = ${id}::uuid FOR NO KEY UPDATE`;
}

/** How many wait for an answer, counted up to `most`. */
export async function countOpenRequests(tx: Transaction, most: number): Promise<number> {
  const [row] = await tx.$queryRaw<{ count: number }[]>`
    SELECT count(*)::int AS count FROM (SELECT 1 FROM place_request WHERE answered_at IS NULL LIMIT ${most}) open`;
  return row?.count ?? 0;
}

export type Asked = {
  courseId: string;
  name: string;
  email: string;
  phone: string | null;
  places: number;
  note: string | null;
};

/** Asked again while it waits for its answer, nothing is added: the index says so, however many ask at once. */
export async function insertRequest(tx: Transaction, id: string, askedAt: Date, asked: Asked): Promise<void> {
  const { courseId, name, email, phone, places, note } = asked;
  await tx.$executeRaw`
    INSERT INTO place_request (id, course_id, name, email, phone, places, note, asked_at)
    VALUES (${id}::uuid, ${courseId}::uuid, ${name}, ${email}, ${phone}, ${places}, ${note}, ${askedAt})
    ON CONFLICT (course_id, lower(email)) WHERE answered_at IS NULL DO NOTHING`;
}

/** The people of these email addresses, in whatever case they are written; `email` is in small letters. */
export async function listPeopleByEmail(tx: Transaction, emails: readonly string[]) {
  if (emails.length === 0) return [];
  return tx.$queryRaw<{ id: string; name: string; email: string }[]>`
    SELECT id::text, name, email_key AS email FROM person
     WHERE email_key = ANY(${emails.map((email) => email.toLowerCase())}::text[]) ORDER BY name, id`;
}

/** Requests for courses that began before a day of the studio, YYYY-MM-DD. @returns how many were deleted */
export async function deleteRequests(tx: Transaction, before: string, timeZone: string): Promise<number> {
  return tx.$executeRaw`
    DELETE FROM place_request r
     WHERE (SELECT min(s.starts_at) FROM session s WHERE s.course_id = r.course_id)
           < (${before}::date)::timestamp AT TIME ZONE ${timeZone}`;
}
