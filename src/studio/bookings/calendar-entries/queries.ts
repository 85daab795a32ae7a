import { Prisma } from '../../../database/generated/client.js';
import type { Transaction } from '../../../database/transaction.js';

/** A session in somebody's calendar, but for what is the same for all of them. */
export type Entry = { sessionId: string; startsAt: Date; endsAt: Date; summary: string; location: string };
/** One as it was last sent. */
export type SentEntry = Entry & { sequence: number; ended: boolean };

/**
 * The sessions to come that somebody has a confirmed place at, or pays one for: less those that they make up elsewhere, and with those
 * at which they make one up. The place is `where`, after the name of the room.
 */
export async function listEntriesOf(tx: Transaction, personId: string, now: Date, where: string): Promise<Entry[]> {
  const person = Prisma.sql`${personId}::uuid`;
  return tx.$queryRaw<Entry[]>`
    WITH mine AS (
      SELECT s.id FROM booking b JOIN session s ON s.course_id = b.course_id
       WHERE b.cancelled_at IS NULL AND s.ends_at > ${now}
         AND b.id IN (SELECT id FROM booking WHERE payer_id = ${person}
                       UNION SELECT booking_id FROM place WHERE person_id = ${person})
         AND b.deposit_minor <= (SELECT coalesce(sum(a.amount_minor), 0) FROM allocation a WHERE a.charge_id = b.charge_id)
         AND NOT EXISTS (SELECT FROM make_up m WHERE m.missed_session_id = s.id AND m.person_id = ${person} AND m.ended_at IS NULL)
      UNION
      SELECT m.session_id FROM make_up m JOIN booking b ON b.id = m.booking_id
       WHERE m.ended_at IS NULL AND ${person} IN (m.person_id, b.payer_id)
         AND b.id IN (SELECT id FROM booking WHERE payer_id = ${person}
                       UNION SELECT booking_id FROM place WHERE person_id = ${person}))
    SELECT s.id::text AS "sessionId", s.starts_at AS "startsAt", s.ends_at AS "endsAt",
           c.title || CASE WHEN n.of > 1 THEN format(' (%s of %s)', n.nth, n.of) ELSE '' END AS summary,
           r.name || ', ' || ${where} AS location
      FROM mine JOIN session s ON s.id = mine.id JOIN course c ON c.id = s.course_id JOIN room r ON r.id = s.room_id
      CROSS JOIN LATERAL (SELECT count(*) AS of, count(*) FILTER (WHERE o.ordinal <= s.ordinal) AS nth FROM session o
                           WHERE o.course_id = s.course_id AND o.cancelled_at IS NULL) n
     WHERE s.ends_at > ${now} AND s.cancelled_at IS NULL AND c.cancelled_at IS NULL
     ORDER BY s.starts_at, s.id`;
}

/** What was sent to somebody of sessions that are still to come, the first first. */
export async function listSentEntries(tx: Transaction, personId: string, now: Date): Promise<SentEntry[]> {
  return tx.$queryRaw<SentEntry[]>`
    SELECT session_id::text AS "sessionId", starts_at AS "startsAt", ends_at AS "endsAt", summary, location, sequence, ended
      FROM calendar_entry WHERE person_id = ${personId}::uuid AND ends_at > ${now} ORDER BY starts_at, session_id`;
}

export async function saveSentEntry(tx: Transaction, personId: string, sentAt: Date, entry: SentEntry): Promise<void> {
  const { sessionId, startsAt, endsAt, summary, location, sequence, ended } = entry;
  await tx.$executeRaw`
    INSERT INTO calendar_entry (person_id, session_id, sequence, starts_at, ends_at, summary, location, ended, sent_at)
    VALUES (${personId}::uuid, ${sessionId}::uuid, ${sequence}, ${startsAt}, ${endsAt}, ${summary}, ${location}, ${ended}, ${sentAt})
        ON CONFLICT (person_id, session_id) DO UPDATE
       SET (sequence, starts_at, ends_at, summary, location, ended, sent_at)
         = (excluded.sequence, excluded.starts_at, excluded.ends_at, excluded.summary, excluded.location, excluded.ended, excluded.sent_at)
     WHERE calendar_entry.sequence < excluded.sequence`;
}
