import type { Transaction } from '../../database/transaction.js';
import type { PlanKind } from '../courses/plan-terms.js';
import type { FiringState } from '../firings/contract.js';
import type { FiringKind } from '../kilns/contract.js';

type DaySession = {
  id: string;
  courseId: string;
  title: string;
  kind: PlanKind;
  ordinal: number;
  of: number;
  startsAt: Date;
  endsAt: Date;
  roomName: string;
  tutors: string[];
  cancelledBecause: string | null;
  places: number;
};

/** Sessions that begin from one instant until before another, those that were cancelled among them. */
export async function listDaySessions(tx: Transaction, from: Date, before: Date): Promise<DaySession[]> {
  return tx.$queryRaw<DaySession[]>`
    SELECT s.id::text, s.course_id::text AS "courseId", c.title, n.kind::text AS kind, s.ordinal,
           (SELECT count(*) FROM session o WHERE o.course_id = c.id AND o.cancelled_at IS NULL)::integer AS of,
           s.starts_at AS "startsAt", s.ends_at AS "endsAt", r.name AS "roomName",
           ARRAY(SELECT m.name FROM session_tutor t JOIN staff_member m ON m.id = t.staff_member_id
                  WHERE t.session_id = s.id ORDER BY m.name) AS tutors,
           s.cancelled_because AS "cancelledBecause", c.places
      FROM session s
      JOIN course c ON c.id = s.course_id
      JOIN course_plan n ON n.id = c.plan_id
      JOIN room r ON r.id = s.room_id
     WHERE s.starts_at >= ${from} AND s.starts_at < ${before}
     ORDER BY s.starts_at, s.id`;
}

export type DayFiring = {
  id: string;
  number: number;
  kilnName: string;
  kind: FiringKind;
  state: FiringState;
  coolingHours: number;
  plannedFrom: Date;
  plannedTo: Date;
  startedAt: Date | null;
  endedAt: Date | null;
  unloadedAt: Date | null;
};

/** Firings that have a kiln at some moment between two instants, as firing.ts says when that is: as planned until they begin. */
export async function listDayFirings(tx: Transaction, now: Date, from: Date, before: Date): Promise<DayFiring[]> {
  return tx.$queryRaw<DayFiring[]>`
    SELECT f.id::text, f.number, k.name AS "kilnName", h.kind::text AS kind, f.state::text AS state, k.cooling_hours AS "coolingHours",
           f.planned_from AS "plannedFrom", f.planned_to AS "plannedTo", f.started_at AS "startedAt", f.ended_at AS "endedAt",
           f.unloaded_at AS "unloadedAt"
      FROM firing f JOIN kiln k ON k.id = f.kiln_id JOIN schedule h ON h.id = f.schedule_id
     WHERE coalesce(f.started_at, f.planned_from) < ${before}
       AND CASE WHEN f.started_at IS NULL THEN f.planned_to
                ELSE coalesce(f.unloaded_at, greatest(f.started_at + (f.planned_to - f.planned_from), ${now})) END > ${from}
     ORDER BY coalesce(f.started_at, f.planned_from), f.id`;
}
