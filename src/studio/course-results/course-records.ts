import type { Transaction } from '../../database/transaction.js';
import { fromDecimal } from '../../database/values.js';
import { groupBy } from '../../trade/maths/group-by.js';
import { Decimal } from '../../trade/money/money.js';
import type { FiringKind } from '../kilns/contract.js';
import type { WorkKind } from './hours-contract.js';

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
  const of = (id: string | null) => records.get(id ?? '') ?? emptyRecord();
  const bookings = await tx.booking.findMany({
    where: { courseId: { in: [...ids] }, cancelledAt: null },
    select: { courseId: true, _count: { select: { places: true } } },
  });
  for (const { courseId, _count } of bookings) of(courseId).students += _count.places;
  await addDraws(tx, ids, of);
  await addReclaims(tx, ids, of);
  await addFirings(tx, ids, of);
  await addPieces(tx, ids, of);
  await addHours(tx, ids, of);
  return records;
}

type Find = (courseId: string | null) => CourseRecord;

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

async function addDraws(tx: Transaction, ids: readonly string[], of: Find): Promise<void> {
  const draws = await tx.courseDraw.findMany({
    where: { courseId: { in: [...ids] } },
    select: { courseId: true, stockMove: { include: { lot: { select: { costMinor: true } } } } },
  });
  for (const { courseId, stockMove } of draws) {
    const { materialId, quantity, costMinor, lot } = stockMove; // what leaves the shelf stands below zero
    const { drawn } = of(courseId);
    const before = drawn.get(materialId) ?? { quantity: 0, costMinor: 0, freeQuantity: 0 };
    drawn.set(materialId, {
      quantity: before.quantity - quantity,
      costMinor: before.costMinor - costMinor,
      freeQuantity: before.freeQuantity - (lot.costMinor === 0 ? quantity : 0),
    });
  }
}

async function addReclaims(tx: Transaction, ids: readonly string[], of: Find): Promise<void> {
  const rows = await tx.courseReclaim.findMany({
    where: { courseId: { in: [...ids] } },
    select: { courseId: true, lot: { select: { materialId: true, quantity: true, costMinor: true } } },
  });
  for (const { courseId, lot } of rows) {
    const { reclaimed } = of(courseId);
    const before = reclaimed.get(lot.materialId) ?? { quantity: 0, worthMinor: 0 };
    reclaimed.set(lot.materialId, {
      quantity: before.quantity + lot.quantity,
      worthMinor: before.worthMinor + lot.costMinor,
    });
  }
}

/** A maker who pays for a firing is billed for it apart from the course; a piece that broke cost its course all the same. */
const OF_COURSES = (ids: readonly string[]) => ({ courseId: { in: [...ids] }, firingPaidBy: 'course' as const });

/**
 * A piece's part is that of the room which ware took, not of the chamber: the empty room around it was heated for it as well, and
 * the plan reckons so. Without the labour, which stands in the hours.
 */
async function addFirings(tx: Transaction, ids: readonly string[], of: Find): Promise<void> {
  const shares = await tx.share.findMany({
    where: { piece: OF_COURSES(ids) },
    select: {
      weightMm3: true,
      firingId: true,
      piece: { select: { courseId: true } },
      firing: { include: { schedule: { select: { kind: true } } } },
    },
    orderBy: { id: 'asc' },
  });
  const firingIds = [...new Set(shares.map(({ firingId }) => firingId))];
  const rooms = async (where: object) => {
    const by = { by: ['firingId' as const], _sum: { weightMm3: true as const } };
    const sums = await tx.share.groupBy({ ...by, where: { firingId: { in: firingIds }, ...where } });
    return new Map(sums.map(({ firingId, _sum }) => [firingId, Number(_sum.weightMm3)]));
  };
  const [filled, chambers] = [await rooms({ pieceId: { not: null } }), await rooms({})];
  for (const [, part] of groupBy(shares, ({ piece, firingId }) => `${piece?.courseId} ${firingId}`)) {
    const [{ piece, firing, firingId }] = part as [(typeof shares)[number]];
    const weightMm3 = part.reduce((sum, share) => sum + Number(share.weightMm3), 0);
    const filledMm3 = filled.get(firingId) ?? weightMm3;
    const load = new Decimal(weightMm3).div(filledMm3);
    const fillPercent = new Decimal(filledMm3).times(100).div(chambers.get(firingId) ?? filledMm3);
    const { fired } = of(piece?.courseId ?? null);
    const kwh = fromDecimal(firing.energyKwh ?? new Decimal(0));
    const before = fired.get(firing.schedule.kind) ?? nothingFired();
    fired.set(firing.schedule.kind, {
      loads: before.loads.plus(load),
      energyAndWearMinor: before.energyAndWearMinor.plus(
        load.times((firing.energyMinor ?? 0) + (firing.wearMinor ?? 0)),
      ),
      kwh: before.kwh.plus(load.times(kwh)),
      numbers: [...before.numbers, firing.number],
      fillPercents: [...before.fillPercents, fillPercent],
      loadKwh: [...before.loadKwh, kwh],
    });
  }
  const unsettled = await tx.placement.findMany({
    where: { piece: OF_COURSES(ids), firing: { state: { in: ['planned', 'firing', 'unloaded'] } } },
    select: {
      piece: { select: { courseId: true } },
      firing: { select: { number: true, schedule: { select: { kind: true } } } },
    },
  });
  for (const { piece, firing } of unsettled) {
    const found = of(piece.courseId).unsettled;
    found.set(firing.schedule.kind, (found.get(firing.schedule.kind) ?? new Set()).add(firing.number));
  }
}

const nothingFired = (): CourseFiring => ({
  loads: new Decimal(0),
  energyAndWearMinor: new Decimal(0),
  kwh: new Decimal(0),
  numbers: [],
  fillPercents: [],
  loadKwh: [],
});

async function addPieces(tx: Transaction, ids: readonly string[], of: Find): Promise<void> {
  const rows = await tx.piece.findMany({
    where: { courseId: { in: [...ids] } },
    select: { courseId: true, stage: true, placements: { select: { outcome: true } } },
  });
  const waits = new Set(['greenware', 'dry', 'bisque', 'glazed']);
  for (const { courseId, stage, placements } of rows) {
    if (stage === 'reclaimed') continue; // its clay is on the shelf again, and it was never fired
    const { pieces } = of(courseId);
    pieces.made += 1;
    if (stage === 'broken' || placements.some(({ outcome }) => outcome === 'broken')) pieces.lost += 1;
    else if (waits.has(stage)) pieces.waiting += 1;
    if (placements.some(({ outcome }) => outcome === 'refire')) pieces.firedAgain += 1;
  }
}

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
