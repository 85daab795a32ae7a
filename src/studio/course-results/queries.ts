import type { Transaction } from '../../database/transaction.js';
import type { FiringKind } from '../kilns/contract.js';

// What courses came to, added up by the database: of a course's hundreds of pieces and draws a row for each sum comes back.

/** Who had a place in the end, and what became of what they made; what was reclaimed raw is on the shelf again, and was never fired. */
export async function countStudentsAndPieces(
  tx: Transaction,
  ids: readonly string[],
): Promise<{ courseId: string; students: number; made: number; lost: number; waiting: number; firedAgain: number }[]> {
  return tx.$queryRaw`
    SELECT c.id::text AS "courseId",
           ((SELECT count(*) FROM booking b JOIN place p ON p.booking_id = b.id
              WHERE b.course_id = c.id AND b.cancelled_at IS NULL)
            + (SELECT coalesce(sum(b.unnamed), 0) FROM booking b
                WHERE b.course_id = c.id AND b.cancelled_at IS NULL))::integer AS students, ware.*
      FROM course c CROSS JOIN LATERAL (
        SELECT count(*)::integer AS made,
               (count(*) FILTER (WHERE lost_at IS NOT NULL))::integer AS lost,
               (count(*) FILTER (WHERE stage IN ('greenware', 'dry', 'bisque', 'glazed')))::integer AS waiting,
               (count(*) FILTER (WHERE EXISTS (
                  SELECT 1 FROM placement l WHERE l.piece_id = k.id AND l.outcome = 'refire')))::integer AS "firedAgain"
          FROM piece k WHERE k.course_id = c.id AND k.stage <> 'reclaimed') ware
     WHERE c.id = ANY(${ids}::uuid[])`;
}

/** What was weighed out for each course, in base units and at its cost; of it, what came from lots without a cost. What leaves the shelf stands below zero. */
export async function sumDraws(
  tx: Transaction,
  ids: readonly string[],
): Promise<{ courseId: string; materialId: string; quantity: number; costMinor: number; freeQuantity: number }[]> {
  return tx.$queryRaw`
    SELECT d.course_id::text AS "courseId", m.material_id::text AS "materialId", (-sum(m.quantity))::float8 AS quantity,
           (-sum(m.cost_minor))::float8 AS "costMinor",
           coalesce(-sum(m.quantity) FILTER (WHERE lot.cost_minor = 0), 0)::float8 AS "freeQuantity"
      FROM course_draw d JOIN stock_move m ON m.id = d.stock_move_id JOIN lot ON lot.id = m.lot_id
     WHERE d.course_id = ANY(${ids}::uuid[]) GROUP BY d.course_id, m.material_id ORDER BY min(d.stock_move_id::text)`;
}

/** What came back to the shelf of it, at the cost at which it went. */
export async function sumReclaims(
  tx: Transaction,
  ids: readonly string[],
): Promise<{ courseId: string; materialId: string; quantity: number; worthMinor: number }[]> {
  return tx.$queryRaw`
    SELECT r.course_id::text AS "courseId", lot.material_id::text AS "materialId", sum(lot.quantity)::float8 AS quantity,
           sum(lot.cost_minor)::float8 AS "worthMinor"
      FROM course_reclaim r JOIN lot ON lot.id = r.lot_id
     WHERE r.course_id = ANY(${ids}::uuid[]) GROUP BY r.course_id, lot.material_id ORDER BY min(lot.id::text)`;
}

/** A settled firing that a course's pieces stood in: their room, that of all ware in it, and that of its chamber. */
export type FiredPart = {
  courseId: string;
  kind: FiringKind;
  number: number;
  weightMm3: number;
  filledMm3: number;
  chamberMm3: number;
  energyMinor: number;
  wearMinor: number;
  energyKwh: string;
};

/** A maker who pays for a firing is billed for it apart from the course; a piece that broke cost its course all the same. */
export async function sumShares(tx: Transaction, ids: readonly string[]): Promise<FiredPart[]> {
  return tx.$queryRaw`
    WITH part AS (
      SELECT k.course_id, s.firing_id, sum(s.weight_mm3) AS mm3, min(s.id::text) AS first
        FROM piece k JOIN share s ON s.piece_id = k.id
       WHERE k.course_id = ANY(${ids}::uuid[]) AND k.firing_paid_by = 'course' GROUP BY k.course_id, s.firing_id
    ), room AS (
      SELECT firing_id, sum(weight_mm3) FILTER (WHERE piece_id IS NOT NULL) AS filled, sum(weight_mm3) AS chamber
        FROM share WHERE firing_id IN (SELECT firing_id FROM part) GROUP BY firing_id
    )
    SELECT p.course_id::text AS "courseId", c.kind::text, f.number, p.mm3::float8 AS "weightMm3", r.filled::float8 AS "filledMm3",
           r.chamber::float8 AS "chamberMm3", coalesce(f.energy_minor, 0) AS "energyMinor", coalesce(f.wear_minor, 0) AS "wearMinor",
           coalesce(f.energy_kwh, 0)::text AS "energyKwh"
      FROM part p JOIN room r ON r.firing_id = p.firing_id JOIN firing f ON f.id = p.firing_id JOIN schedule c ON c.id = f.schedule_id
     ORDER BY p.first`;
}

/** Firings that hold or held a course's pieces and are not settled. */
export async function listUnsettledFirings(
  tx: Transaction,
  ids: readonly string[],
): Promise<{ courseId: string; kind: FiringKind; number: number }[]> {
  return tx.$queryRaw`
    SELECT DISTINCT k.course_id::text AS "courseId", c.kind::text, f.number
      FROM firing f JOIN schedule c ON c.id = f.schedule_id JOIN placement l ON l.firing_id = f.id JOIN piece k ON k.id = l.piece_id
     WHERE f.state IN ('planned', 'firing', 'unloaded') AND k.course_id = ANY(${ids}::uuid[]) AND k.firing_paid_by = 'course'
     ORDER BY f.number`;
}
