import { Prisma } from '../../../database/generated/client.js';
import type { Transaction } from '../../../database/transaction.js';
import type { Studio } from '../../settings/contract.js';

export type SessionAhead = { sessionId: string; courseId: string; day: string };

/**
 * The sessions of the studio's next day, and of what is left of today, that nobody was written to about yet, the first first.
 *
 * @param onlyFirst leaves out all but the first session of a course that takes place
 */
export async function listSessionsAhead(
  tx: Transaction,
  now: Date,
  { before, timeZone, onlyFirst }: { before: Date; onlyFirst: boolean } & Pick<Studio, 'timeZone'>,
): Promise<SessionAhead[]> {
  const isFirst = Prisma.sql`NOT EXISTS (SELECT FROM session e WHERE e.course_id = s.course_id AND e.cancelled_at IS NULL
                                            AND e.ordinal < s.ordinal)`;
  return tx.$queryRaw<SessionAhead[]>`
    SELECT s.id::text AS "sessionId", s.course_id::text AS "courseId", (s.starts_at AT TIME ZONE ${timeZone})::date::text AS day
      FROM session s JOIN course c ON c.id = s.course_id
     WHERE s.starts_at > ${now} AND s.starts_at < ${before} AND s.cancelled_at IS NULL AND c.cancelled_at IS NULL
       AND ${onlyFirst ? isFirst : Prisma.sql`true`}
       AND NOT EXISTS (SELECT FROM day_before_letter l
                        WHERE l.session_id = s.id AND l.on_day = (s.starts_at AT TIME ZONE ${timeZone})::date)
     ORDER BY s.starts_at, s.id`;
}

/** @returns whether nobody has noted it before */
export async function noteWritten(
  tx: Transaction,
  { sessionId, day }: SessionAhead,
  writtenAt: Date,
): Promise<boolean> {
  const rows = await tx.$executeRaw`
    INSERT INTO day_before_letter (session_id, on_day, written_at)
    VALUES (${sessionId}::uuid, ${day}::date, ${writtenAt}) ON CONFLICT DO NOTHING`;
  return rows > 0;
}

/** Who makes up a session elsewhere, or another one in this: their make-ups that have not ended. */
export async function listMakeUpsOf(tx: Transaction, sessionId: string) {
  return tx.$queryRaw<{ personId: string; name: string; payerId: string; isAway: boolean }[]>`
    SELECT m.person_id::text AS "personId", p.name, b.payer_id::text AS "payerId",
           m.missed_session_id = ${sessionId}::uuid AS "isAway"
      FROM make_up m JOIN booking b ON b.id = m.booking_id JOIN person p ON p.id = m.person_id
     WHERE m.ended_at IS NULL AND ${sessionId}::uuid IN (m.session_id, m.missed_session_id)
     ORDER BY m.id`;
}
