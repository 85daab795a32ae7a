import type { Transaction } from '../../database/transaction.js';
import { Decimal } from '../../trade/money/money.js';
import type { FiringKind } from '../kilns/contract.js';
import type { WorkKind } from './hours-contract.js';
import {
  countStudentsAndPieces,
  type FiredPart,
  listUnsettledFirings,
  sumDraws,
  sumReclaims,
  sumShares,
} from './queries.js';

/** What firings of one kind took of a course's pieces. Loads, money and kWh are the pieces' part of the room that was filled. */
export type CourseFiring = {
  loads: Decimal;
  energyAndWearMinor: Decimal;
  kwh: Decimal;
  numbers: number[];
  /** how full the kiln was, of each firing */
  fillPercents: Decimal[];
  /** of each whole firing */
  loadKwh: string[];
};

/** What stands in the books of one course. */
export type CourseRecord = {
  students: number;
  /** under the material's id, in base units; of it, what came from lots without a cost */
  drawn: Map<string, { quantity: number; costMinor: number; freeQuantity: number }>;
  /** what came back of it to the shelf, likewise, at the cost at which it went */
  reclaimed: Map<string, { quantity: number; worthMinor: number }>;
  fired: Map<FiringKind, CourseFiring>;
  /** firings that hold or held its pieces and are not settled */
  unsettled: Map<FiringKind, Set<number>>;
  pieces: { made: number; lost: number; firedAgain: number; waiting: number };
  /** the owner's, in minutes */
  minutes: Map<WorkKind, number>;
  othersMinutes: number;
  /** anybody's, preparing and clearing, when the room was in use too */
  aroundMinutes: number | null;
};

/** The records of courses, under their ids, in as few questions to the database for many as for one. */
export async function getCourseRecords(tx: Transaction, ids: readonly string[]): Promise<Map<string, CourseRecord>> {
  const records = new Map(ids.map((id) => [id, emptyRecord()]));
  const of = (id: string) => records.get(id) ?? emptyRecord();
  for (const { courseId, students, ...pieces } of await countStudentsAndPieces(tx, ids))
    Object.assign(of(courseId), { students, pieces });
  for (const { courseId, materialId, ...drawn } of await sumDraws(tx, ids)) of(courseId).drawn.set(materialId, drawn);
  for (const { courseId, materialId, ...back } of await sumReclaims(tx, ids))
    of(courseId).reclaimed.set(materialId, back);
  for (const part of await sumShares(tx, ids)) addFiring(of(part.courseId), part);
  for (const { courseId, kind, number } of await listUnsettledFirings(tx, ids)) {
    const { unsettled } = of(courseId);
    unsettled.set(kind, (unsettled.get(kind) ?? new Set()).add(number));
  }
  await addHours(tx, ids, of);
  return records;
}

type Find = (courseId: string) => CourseRecord;

const emptyRecord = (): CourseRecord => ({
  students: 0,
  drawn: new Map(),
  reclaimed: new Map(),
  fired: new Map(),
  unsettled: new Map(),
  pieces: { made: 0, lost: 0, firedAgain: 0, waiting: 0 },
  minutes: new Map(),
  othersMinutes: 0,
  aroundMinutes: null,
});

/**
 * A piece's part is that of the room which ware took, not of the chamber: the empty room around it was heated for it as well, and
 * the plan reckons so. Without the labour, which stands in the hours.
 */
function addFiring(
  { fired }: CourseRecord,
  { kind, number, weightMm3, filledMm3, chamberMm3, ...cost }: FiredPart,
): void {
  const load = new Decimal(weightMm3).div(filledMm3);
  const before = fired.get(kind) ?? nothingFired();
  fired.set(kind, {
    loads: before.loads.plus(load),
    energyAndWearMinor: before.energyAndWearMinor.plus(load.times(cost.energyMinor + cost.wearMinor)),
    kwh: before.kwh.plus(load.times(cost.energyKwh)),
    numbers: [...before.numbers, number],
    fillPercents: [...before.fillPercents, new Decimal(filledMm3).times(100).div(chamberMm3)],
    loadKwh: [...before.loadKwh, cost.energyKwh],
  });
}

const nothingFired = (): CourseFiring => ({
  loads: new Decimal(0),
  energyAndWearMinor: new Decimal(0),
  kwh: new Decimal(0),
  numbers: [],
  fillPercents: [],
  loadKwh: [],
});

async function addHours(tx: Transaction, ids: readonly string[], of: Find): Promise<void> {
  const rows = await tx.courseHours.findMany({
    where: { courseId: { in: [...ids] } },
    select: { courseId: true, what: true, minutes: true, staffMember: { select: { role: true } } },
  });
  for (const { courseId, what, minutes, staffMember } of rows) {
    const record = of(courseId);
    if (staffMember?.role === 'tutor') record.othersMinutes += minutes;
    else record.minutes.set(what, (record.minutes.get(what) ?? 0) + minutes);
    if (what === 'preparing' || what === 'clearing') record.aroundMinutes = (record.aroundMinutes ?? 0) + minutes;
  }
}
