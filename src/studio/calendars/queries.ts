import { Prisma } from '../../database/generated/client.js';
import type { Transaction } from '../../database/transaction.js';

export type FeedSession = {
  id: string;
  sequence: number;
  title: string;
  ordinal: number;
  /** sessions of its course */
  of: number;
  startsAt: Date;
  endsAt: Date;
  room: string;
  tutors: string[];
  places: number;
  /** who has a place, or makes up for another session here, less those who make it up elsewhere */
  coming: number;
  cancelledBecause: string | null;
};

/** Sessions that ended after some instant, the first first; those that were cancelled among them, but for a tutor's. */
export async function listFeedSessions(
  tx: Transaction,
  after: Date,
  { roomId, staffMemberId }: { roomId: string | null; staffMemberId: string | null },
): Promise<FeedSession[]> {
  return tx.$queryRaw<FeedSession[]>`
    SELECT s.id::text, s.sequence, c.title, s.ordinal, (SELECT count(*) FROM session n WHERE n.course_id = c.id)::integer AS of,
           s.starts_at AS "startsAt", s.ends_at AS "endsAt", r.name AS room, s.cancelled_because AS "cancelledBecause",
           ARRAY(SELECT m.name FROM session_tutor t JOIN staff_member m ON m.id = t.staff_member_id
                  WHERE t.session_id = s.id ORDER BY m.name) AS tutors,
           c.places, ((SELECT count(*) FROM booking b JOIN place p ON p.booking_id = b.id
                        WHERE b.course_id = c.id AND b.cancelled_at IS NULL)
                      + (SELECT count(*) FROM make_up u WHERE u.session_id = s.id AND u.ended_at IS NULL)
                      - (SELECT count(*) FROM make_up u WHERE u.missed_session_id = s.id AND u.ended_at IS NULL))::integer AS coming
      FROM session s JOIN course c ON c.id = s.course_id JOIN room r ON r.id = s.room_id
     WHERE s.ends_at > ${after}
       AND ${roomId === null ? Prisma.sql`true` : Prisma.sql`s.room_id = ${roomId}::uuid`}
       AND ${
         staffMemberId === null
           ? Prisma.sql`true`
           : Prisma.sql`EXISTS (SELECT FROM session_tutor t WHERE t.session_id = s.id AND t.staff_member_id = ${staffMemberId}::uuid)`
       }
     ORDER BY s.starts_at, s.id`;
}

/** Of two that make an address at once, the later one ends the earlier. */
export async function lockFeeds(tx: Transaction): Promise<void> {
  await tx.$executeRaw`LOCK TABLE calendar_feed IN SHARE ROW EXCLUSIVE MODE`;
}
