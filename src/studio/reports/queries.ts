import type { WareForm } from '../../database/generated/enums.js';
import type { Transaction } from '../../database/transaction.js';
import type { Purpose } from '../../trade/calendar/production-lead-time.js';
import type { Stage } from '../../trade/firing/ware-stages.js';
import type { Occasion } from '../notices/contract.js';
import { HERE } from '../ware/queries.js';
import type { ReportDay } from './day.js';

export type StandingPiece = {
  id: string;
  code: string;
  makerId: string;
  maker: string;
  description: string;
  form: WareForm;
  widthMm: number;
  depthMm: number;
  heightMm: number;
  stage: Stage;
  /** the studio's day on which it came to its stage, YYYY-MM-DD, and how many have passed since */
  since: string;
  days: number;
  /** the firing in whose load it stands, planned or on */
  firingNumber: number | null;
  inTheFire: boolean;
  /** was its maker told of it since it last became ready? */
  told: boolean;
};

/**
 * All ware that is somewhere between clay and its maker's hands, and what these firings hold, longest at its stage first. When it
 * came there is the first of its latest run of events of that stage: to move it, or to note something of it, starts no new wait.
 * Later and earlier go by ids (UUID v7), since what is caught up with bears the times at which it happened. `max(uuid)` is for
 * PostgreSQL 18 only, so that the last event of another stage is found by the index.
 */
export async function listStandingPieces(
  tx: Transaction,
  firingIds: readonly string[],
  today: string,
  timeZone: string,
): Promise<StandingPiece[]> {
  return tx.$queryRaw<StandingPiece[]>`
    SELECT p.id::text, p.code, p.maker_id::text AS "makerId", m.name AS maker, p.description, p.form::text,
           p.width_mm AS "widthMm", p.depth_mm AS "depthMm", p.height_mm AS "heightMm", p.stage::text,
           came.day::text AS since, greatest(0, ${today}::date - came.day) AS days,
           load.number AS "firingNumber", coalesce(load.state = 'firing', false) AS "inTheFire",
           EXISTS (SELECT 1 FROM announced_piece a WHERE a.piece_id = p.id
                      AND (other.id IS NULL OR a.notice_id > other.id)) AS told
      FROM piece p
      JOIN person m ON m.id = p.maker_id
      LEFT JOIN LATERAL (SELECT e.id FROM piece_event e WHERE e.piece_id = p.id AND e.stage <> p.stage
                          ORDER BY e.id DESC LIMIT 1) other ON true
      CROSS JOIN LATERAL (
        SELECT at, (at AT TIME ZONE ${timeZone})::date AS day FROM (
          SELECT coalesce((SELECT e.at FROM piece_event e WHERE e.piece_id = p.id AND (other.id IS NULL OR e.id > other.id)
                            ORDER BY e.id LIMIT 1), p.created_at) AS at) first) came
      LEFT JOIN LATERAL (SELECT f.number, f.state FROM placement l JOIN firing f ON f.id = l.firing_id
                          WHERE l.piece_id = p.id AND f.state IN ('planned', 'firing') LIMIT 1) load ON true
     WHERE p.id IN (SELECT p.id FROM piece p WHERE ${HERE}
                     UNION SELECT piece_id FROM placement WHERE firing_id = ANY(${firingIds}::uuid[]))
     ORDER BY came.at, p.code`;
}

export type DaySession = {
  sessionId: string;
  courseId: string;
  planId: string;
  title: string;
  places: number;
  purpose: Purpose;
  startsAt: Date;
  endsAt: Date;
  room: string;
  tutors: string[];
  /** what all sessions of its course are for */
  purposes: Purpose[];
};

/**
 * What begins on a day, and what began on the day before and still goes on; where that is nothing, what begins on the next day that has
 * any.
 */
export async function listDaySessions(
  tx: Transaction,
  now: Date,
  { startsAt, endsAt }: ReportDay,
  timeZone: string,
): Promise<DaySession[]> {
  return tx.$queryRaw<DaySession[]>`
    WITH today AS (
      SELECT id FROM session
       WHERE cancelled_at IS NULL
         AND ((starts_at >= ${startsAt} AND starts_at < ${endsAt}) OR (starts_at < ${startsAt} AND ends_at > ${now}))),
    next AS (
      SELECT ((starts_at AT TIME ZONE ${timeZone})::date + 1)::timestamp AT TIME ZONE ${timeZone} AS ends_at FROM session
       WHERE starts_at >= ${endsAt} AND cancelled_at IS NULL AND NOT EXISTS (SELECT FROM today) ORDER BY starts_at LIMIT 1),
    wanted AS (
      SELECT id FROM today
      UNION ALL SELECT id FROM session
                 WHERE cancelled_at IS NULL AND starts_at >= ${endsAt} AND starts_at < (SELECT ends_at FROM next))
    SELECT s.id::text AS "sessionId", c.id::text AS "courseId", c.plan_id::text AS "planId", c.title, c.places, s.purpose::text,
           s.starts_at AS "startsAt", s.ends_at AS "endsAt", r.name AS room,
           ARRAY(SELECT m.name FROM session_tutor t JOIN staff_member m ON m.id = t.staff_member_id
                  WHERE t.session_id = s.id ORDER BY m.name) AS tutors,
           ARRAY(SELECT o.purpose::text FROM session o WHERE o.course_id = c.id ORDER BY o.ordinal) AS purposes
      FROM wanted w JOIN session s ON s.id = w.id JOIN course c ON c.id = s.course_id JOIN room r ON r.id = s.room_id
     ORDER BY s.starts_at, s.id`;
}

export type Comer = {
  courseId: string;
  personId: string;
  name: string;
  provisional: boolean;
  /** the one session that they come to, to make up one of the course that is named; null who comes by a booking */
  sessionId: string | null;
  makesUp: string | null;
  /** the sessions that they make up elsewhere */
  away: string[];
};

/**
 * Who comes to these courses, by name: who has a place, and whether the deposit is still awaited, and who makes up a session there.
 * `lapsed` holds are free places again.
 */
export async function listComing(
  tx: Transaction,
  courseIds: readonly string[],
  lapsed: readonly string[],
): Promise<Comer[]> {
  return tx.$queryRaw<Comer[]>`
    SELECT b.course_id::text AS "courseId", p.id::text AS "personId", p.name,
           b.deposit_minor > (SELECT coalesce(sum(a.amount_minor), 0) FROM allocation a WHERE a.charge_id = b.charge_id) AS provisional,
           NULL AS "sessionId", NULL AS "makesUp", l.id AS at,
           ARRAY(SELECT m.missed_session_id::text FROM make_up m
                  WHERE m.booking_id = b.id AND m.person_id = p.id AND m.ended_at IS NULL) AS away
      FROM booking b JOIN place l ON l.booking_id = b.id JOIN person p ON p.id = l.person_id
     WHERE b.course_id = ANY(${courseIds}::uuid[]) AND b.cancelled_at IS NULL AND NOT b.id = ANY(${lapsed}::uuid[])
    UNION ALL
    SELECT s.course_id::text, p.id::text, p.name, false, m.session_id::text, o.title, m.id, '{}'
      FROM make_up m JOIN session s ON s.id = m.session_id JOIN person p ON p.id = m.person_id
      JOIN session x ON x.id = m.missed_session_id JOIN course o ON o.id = x.course_id
     WHERE s.course_id = ANY(${courseIds}::uuid[]) AND m.ended_at IS NULL
     ORDER BY name, at`;
}

type Undelivered = {
  noticeId: string;
  personId: string;
  personName: string;
  occasion: Occasion;
  at: Date;
  outcome: 'failed' | 'noAddress';
  detail: string;
};

/** The notices whose last delivery, since then, reached nobody. One that failed and went out later is left out. */
export async function undelivered(tx: Transaction, since: Date): Promise<Undelivered[]> {
  return tx.$queryRaw<Undelivered[]>`
    SELECT n.id::text AS "noticeId", n.person_id::text AS "personId", p.name AS "personName", n.occasion::text,
           d.at, d.outcome::text, d.detail
      FROM delivery d JOIN notice n ON n.id = d.notice_id JOIN person p ON p.id = n.person_id
     WHERE d.outcome IN ('failed', 'noAddress') AND d.at >= ${since}
       AND NOT EXISTS (SELECT 1 FROM delivery later WHERE later.notice_id = d.notice_id AND later.id > d.id)
     ORDER BY d.at DESC, n.id DESC`;
}
