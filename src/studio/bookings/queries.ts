import { type FoundPage, findPage, within } from '../../database/find-page.js';
import { Prisma } from '../../database/generated/client.js';
import { rowsOf } from '../../database/rows-of.js';
import type { Transaction } from '../../database/transaction.js';
import { searchPatterns } from '../../trade/text/search-text.js';
import { courseMatches } from '../courses/queries.js';
import type { Occasion } from '../notices/contract.js';
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

/** Of a booking `b`: what it asks as a deposit is paid. */
export const isDepositPaid = Prisma.sql`
  b.deposit_minor <= (SELECT coalesce(sum(a.amount_minor), 0) FROM allocation a WHERE a.charge_id = b.charge_id)`;

/** What waits for its deposit is among the open charges: they are few, of bookings that may be very many. */
const STATES: Record<NonNullable<BookingQuery['state']>, Prisma.Sql> = {
  cancelled: Prisma.sql`b.cancelled_at IS NOT NULL`,
  confirmed: Prisma.sql`b.cancelled_at IS NULL AND ${isDepositPaid}`,
  provisional: Prisma.sql`
    b.cancelled_at IS NULL AND b.charge_id IN (SELECT charge_id FROM open_charge) AND NOT (${isDepositPaid})`,
};

const ofPeople = (people: Prisma.Sql) => Prisma.sql`
  SELECT k.id FROM booking k WHERE k.payer_id IN (${people})
  UNION ALL SELECT p.booking_id FROM place p WHERE p.person_id IN (${people})
  UNION ALL SELECT g.booking_id FROM cancelled_place g WHERE g.person_id IN (${people})`;

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

type Hold = { id: string; courseId: string; chargeId: string; places: number };

/** How full a course is, as one more booking finds it. */
export type Occupancy = {
  /** places booked, held, offered to somebody else who waits, or gone in the session that has most who make one up there */
  taken: number;
  /** whether some of them are held or offered no more, and have to be released first */
  hasLapsed: boolean;
  /** whether places were given up, which may be filled again */
  hasGivenUp: boolean;
  /** one of those who are to come, and has a place already */
  comes: { name: string; bookingId: string } | null;
  /** one of those who are to come, and makes up a session there */
  makesUp: string | null;
  /** where those who are to come are on its waiting list */
  waitingIds: string[];
};

/** Read it under the course's lock. */
export async function getOccupancy(
  tx: Transaction,
  now: Date,
  courseId: string,
  attendeeIds: readonly string[],
): Promise<Occupancy> {
  const ofCourse = Prisma.sql`b.course_id = ${courseId}::uuid`;
  const there = Prisma.sql`
    FROM booking b JOIN place p ON p.booking_id = b.id WHERE ${ofCourse} AND b.cancelled_at IS NULL`;
  const waits = Prisma.sql`FROM waiting_entry w WHERE w.course_id = ${courseId}::uuid AND w.ended_at IS NULL`;
  const isOneOfThem = Prisma.sql`w.person_id = ANY(${attendeeIds}::uuid[])`;
  const [found] = await tx.$queryRaw<Occupancy[]>`
    SELECT ((SELECT count(*) ${there})
            + (SELECT coalesce(sum(w.places), 0) ${waits} AND w.offered_at IS NOT NULL AND NOT ${isOneOfThem})
            + made_up_in(${courseId}::uuid))::integer AS taken,
           (SELECT n.name FROM make_up m JOIN session s ON s.id = m.session_id JOIN person n ON n.id = m.person_id
             WHERE s.course_id = ${courseId}::uuid AND m.ended_at IS NULL AND m.person_id = ANY(${attendeeIds}::uuid[]) LIMIT 1) AS "makesUp",
           EXISTS (SELECT ${lapsed(now)} AND ${ofCourse}) OR EXISTS (SELECT ${waits} AND w.offered_until <= ${now}) AS "hasLapsed",
           ARRAY(SELECT w.id::text ${waits} AND ${isOneOfThem}) AS "waitingIds",
           EXISTS (SELECT FROM given_up WHERE course_id = ${courseId}::uuid) AS "hasGivenUp",
           (SELECT json_build_object('name', (SELECT name FROM person WHERE id = p.person_id), 'bookingId', b.id)
              ${there} AND p.person_id = ANY(${attendeeIds}::uuid[]) LIMIT 1) AS comes`;
  if (!found) throw new Error('A statement without a table answers with one row.');
  return found;
}

/**
 * Provisional bookings whose hold has run out, of one course or of all. Not among them, as the owner has to decide there: those
 * on which something was paid, since a job can't hand money back; and those of a course that has begun, where no place can be
 * sold any more and somebody who came would no longer be asked for the price.
 */
export async function listLapsedHolds(tx: Transaction, now: Date, courseId?: string): Promise<Hold[]> {
  const of = courseId ? Prisma.sql`b.course_id = ${courseId}::uuid` : Prisma.sql`true`;
  return tx.$queryRaw<Hold[]>`
    SELECT b.id::text, b.course_id::text AS "courseId", b.charge_id::text AS "chargeId",
           (SELECT count(*) FROM place WHERE booking_id = b.id)::integer AS places
           ${lapsed(now)} AND ${of} ORDER BY b.id`;
}

const lapsed = (now: Date) => Prisma.sql`
      FROM open_charge o JOIN booking b ON b.charge_id = o.charge_id
     WHERE b.cancelled_at IS NULL AND b.deposit_minor > 0 AND b.held_until <= ${now}
       AND (SELECT coalesce(sum(amount_minor), 0) FROM allocation WHERE charge_id = b.charge_id) = 0
       AND NOT EXISTS (SELECT 1 FROM session s
                        WHERE s.course_id = b.course_id AND s.starts_at <= ${now} AND s.cancelled_at IS NULL)`;

/** Notes that a booking's payer is told of an occasion, before the notice is written. @returns false where that was noted before */
export async function insertBookingNotice(
  tx: Transaction,
  { bookingId, occasion, noticeId }: { bookingId: string; occasion: Occasion; noticeId: string },
): Promise<boolean> {
  const inserted = await tx.$executeRaw`
    INSERT INTO booking_notice (booking_id, occasion, notice_id)
    VALUES (${bookingId}::uuid, ${occasion}::notice_occasion, ${noticeId}::uuid) ON CONFLICT DO NOTHING`;
  return inserted > 0;
}

type Asking = { id: string; courseId: string; chargeId: string; depositMinor: number };

/** Bookings that a payment of these charges may confirm, by their courses' ids, in which they are locked. */
export async function listToConfirm(tx: Transaction, chargeIds: readonly string[]): Promise<Asking[]> {
  return tx.$queryRaw<Asking[]>`
    SELECT id::text, course_id::text AS "courseId", charge_id::text AS "chargeId", deposit_minor AS "depositMinor" FROM booking
     WHERE charge_id = ANY(${chargeIds}::uuid[]) AND deposit_minor > 0 AND cancelled_at IS NULL ORDER BY course_id`;
}

export interface LatestAttendance {
  sessionId: string;
  personId: string;
  came: boolean;
  notedAt: Date;
  notedBy: string;
}

/** What counts of each person at each session of a course: the entry that was noted last, unless it took back what was before. */
export async function listLatestAttendance(tx: Transaction, courseId: string): Promise<LatestAttendance[]> {
  return tx.$queryRaw<LatestAttendance[]>`
    SELECT a.session_id::text AS "sessionId", a.person_id::text AS "personId", a.came, a.noted_at AS "notedAt", m.name AS "notedBy"
      FROM (SELECT DISTINCT ON (session_id, person_id) session_id, person_id, came, noted_at, noted_by_id
              FROM attendance WHERE session_id IN (SELECT id FROM session WHERE course_id = ${courseId}::uuid)
             ORDER BY session_id, person_id, noted_at DESC, id DESC) a
      JOIN staff_member m ON m.id = a.noted_by_id
     WHERE a.came IS NOT NULL ORDER BY a.session_id, a.person_id`;
}

/** Writes a booking and its places. */
export async function insertBooking(
  tx: Transaction,
  booking: {
    id: string;
    courseId: string;
    payerId: string;
    chargeId: string;
    depositMinor: number;
    heldUntil: Date;
    bookedAt: Date;
    outsideWindow: boolean;
    unnamed: number;
  },
  places: readonly {
    id: string;
    personId: string;
    concessionId: string | null;
    priceMinor: number | null;
    depositMinor: number | null;
    ageConfirmed: boolean;
  }[],
): Promise<void> {
  await tx.$executeRaw`
    WITH booking AS (
      INSERT INTO booking (id, course_id, payer_id, charge_id, deposit_minor, held_until, booked_at, outside_window, unnamed)
      VALUES (${booking.id}::uuid, ${booking.courseId}::uuid, ${booking.payerId}::uuid, ${booking.chargeId}::uuid,
              ${booking.depositMinor}, ${booking.heldUntil}, ${booking.bookedAt}, ${booking.outsideWindow}, ${booking.unnamed}) RETURNING id)
    INSERT INTO place (id, booking_id, person_id, concession_id, price_minor, deposit_minor, age_confirmed)
    SELECT p.id, booking.id, p."personId", p."concessionId", p."priceMinor", p."depositMinor", p."ageConfirmed"
      FROM booking, ${rowsOf(places)} AS p (id uuid, "personId" uuid, "concessionId" uuid, "priceMinor" integer,
                                            "depositMinor" integer, "ageConfirmed" boolean)`;
}

type CourseWithPlaces = { title: string; startsAt: Date; placesLeft: number };

/** Some courses of the same kind to come that still have places, those of the same plan first, then by their first day. */
export async function listCoursesWithPlaces(
  tx: Transaction,
  now: Date,
  { id, planId, kind }: { id: string; planId: string; kind: string },
  limit: number,
): Promise<CourseWithPlaces[]> {
  if (kind === 'private') return [];
  return tx.$queryRaw<CourseWithPlaces[]>`
    SELECT c.title, f.starts_at AS "startsAt", (c.places - t.taken)::integer AS "placesLeft"
      FROM (SELECT course_id, min(starts_at) AS starts_at FROM session
             WHERE course_id IN (SELECT course_id FROM session WHERE starts_at > ${now}) AND cancelled_at IS NULL GROUP BY course_id) f
      JOIN course c ON c.id = f.course_id AND f.starts_at > ${now}
      JOIN course_plan p ON p.id = c.plan_id,
      LATERAL (
        SELECT (SELECT count(*) FROM booking b JOIN place p ON p.booking_id = b.id
                 WHERE b.course_id = c.id AND b.cancelled_at IS NULL)
             + (SELECT coalesce(sum(w.places), 0) FROM waiting_entry w WHERE w.course_id = c.id AND w.ended_at IS NULL)
             + made_up_in(c.id) AS taken) t
     WHERE c.id <> ${id}::uuid AND c.cancelled_at IS NULL AND c.completed_on IS NULL AND p.kind = ${kind}::plan_kind
       AND t.taken < c.places
     ORDER BY c.plan_id <> ${planId}::uuid, f.starts_at, c.id LIMIT ${limit}`;
}

/** Holds of a course that wait for their deposit end at some moment at the latest. @returns the bookings whose holds end earlier now */
export async function endHoldsBy(tx: Transaction, courseId: string, at: Date): Promise<string[]> {
  const rows = await tx.$queryRaw<{ id: string }[]>`
    UPDATE booking b SET held_until = ${at}
     WHERE b.course_id = ${courseId}::uuid AND b.cancelled_at IS NULL AND b.held_until > ${at} AND NOT (${isDepositPaid})
    RETURNING b.id::text`;
  return rows.map(({ id }) => id);
}
