import { lengthBeforeMm } from '../materials/clay.js';
import { checkSize, type SizeMm, type VesselShape } from '../materials/vessel-shapes.js';
import { Decimal, decimalIn } from '../maths/number.js';

export const FIRING_KINDS = ['bisque', 'glaze', 'lustre'] as const;
export type FiringKind = (typeof FIRING_KINDS)[number];

/** Ware as it is known: its fired size, and how much its clay shrinks in the fire where that is known. */
export type FiredWare = SizeMm & { form: VesselShape; firingShrinkagePercent: string | null };

/** Room that a piece keeps from its neighbours in a kiln, so that glazes don't meet (common practice: 6 mm or more). */
export const KILN_GAP_MM = 6;
/** What each dimension counts as at least; common practice, so that a plate pays for the shelf it takes. */
const LEAST_MM = 50;
/** Linear, of the dry length, where nobody entered that of the clay: the middle of stoneware bodies. An assumption. */
const ASSUMED_FIRING_SHRINKAGE_PERCENT = '6.5';
/** What of it a bisque firing has done by the time the ware stands in a glaze firing (common practice: hardly anything). An assumption. */
const BISQUE_SHRINKAGE_PERCENT = 1;

/** So many pieces of open ware stand in one another in a bisque firing, where nothing can stick. An assumption. */
const STACKED_MOST = 3;
/** What each piece adds to the height of such a stack, as a part of its own. Other forms stand alone. Assumptions. */
const STACK_RISE: Partial<Record<VesselShape, string>> = { bowl: '0.35', plate: '0.5', pinchPot: '0.35', tile: '1' };

/**
 * The room in a kiln that a piece of fired ware would take: its bounding box, with the gap to its neighbours added once each way.
 *
 * @param gapMm   0 to 100
 * @param leastMm what each dimension counts as at least
 * @returns whole mm³
 * @throws RangeError on a size outside 1..2000 mm
 */
export function boxVolumeMm3(size: SizeMm, gapMm: number, leastMm = LEAST_MM): number {
  decimalIn(gapMm, 'The gap in mm', 0, 100);
  decimalIn(leastMm, 'The least dimension in mm', 0, 200);
  return boxMm3(
    checkSize(size).map((mm) => new Decimal(mm)),
    gapMm,
    leastMm,
  )
    .round()
    .toNumber();
}

const boxMm3 = (sides: readonly Decimal[], gapMm: number, leastMm: number): Decimal =>
  sides.map((mm) => Decimal.max(mm.plus(gapMm), leastMm)).reduce((volume, side) => volume.times(side), new Decimal(1));

/**
 * The room that a piece takes in a firing: the one rule by which firings are priced, compared and billed. It counts with the size that
 * it has when it goes in: dry before the bisque, hardly smaller before the glaze firing, as it was fired before the lustre. Dry
 * ware may touch, and open forms stand in one another, up to STACKED_MOST; glazed ware keeps its gap.
 *
 * @returns whole mm³
 * @throws RangeError on a size outside 1..2000 mm, or a shrinkage that can't be
 */
export function kilnRoomMm3(ware: FiredWare, kind: FiringKind): number {
  const sides = checkSize(ware).map((mm) => new Decimal(sizeGoingIn(mm, ware.firingShrinkagePercent, kind)));
  if (kind !== 'bisque') return boxMm3(sides, KILN_GAP_MM, LEAST_MM).round().toNumber();
  const rise = STACK_RISE[ware.form];
  const stacked = rise === undefined ? 1 : STACKED_MOST;
  const [width, depth, height] = sides as [Decimal, Decimal, Decimal];
  const stackMm = height.times(new Decimal(rise ?? 0).times(stacked - 1).plus(1));
  return boxMm3([width, depth, stackMm], 0, LEAST_MM).div(stacked).round().toNumber();
}

function sizeGoingIn(firedMm: number, shrinkagePercent: string | null, kind: FiringKind): number {
  if (kind === 'lustre') return firedMm;
  const shrinkage = shrinkagePercent ?? ASSUMED_FIRING_SHRINKAGE_PERCENT;
  const dryMm = lengthBeforeMm(firedMm, shrinkage);
  return kind === 'bisque' ? dryMm : Math.max(firedMm, dryMm * (1 - BISQUE_SHRINKAGE_PERCENT / 100));
}

/** Ware of a plan: so many pieces of each student, made by them or, where it says so, bisqued or fired when they get it. */
export type PlannedWare = FiredWare & { perStudent: number; comesAs: 'bisque' | 'fired' | null };

/** Ware that comes made skips the firings that it has behind it; what students make goes through all. */
export function goesThrough(comesAs: PlannedWare['comesAs'], kind: FiringKind): boolean {
  if (comesAs === null) return true;
  return kind === 'lustre' || (kind === 'glaze' && comesAs === 'bisque');
}

const MM3_PER_LITRE = 1_000_000;

/**
 * The room that one student's ware takes in a firing of a kind.
 *
 * @param broughtLitres of what a student brings besides, decimal string; it goes through every firing
 * @returns litres as an exact decimal string
 */
export function litresPerStudent(kind: FiringKind, ware: readonly PlannedWare[], broughtLitres: string | null): string {
  const inIt = ware.filter(({ comesAs }) => goesThrough(comesAs, kind));
  const mm3 = inIt.reduce((sum, piece) => sum + kilnRoomMm3(piece, kind) * piece.perStudent, 0);
  return new Decimal(mm3)
    .div(MM3_PER_LITRE)
    .plus(broughtLitres ?? 0)
    .toFixed();
}

/** How a piece's room in a firing of a kind is counted, in a sentence for the owner. */
export const ROOM_RULE: Record<FiringKind, string> = {
  bisque: `at its dry size, bowls, plates, pinch pots and tiles up to ${STACKED_MOST} in one another (an assumption)`,
  glaze: `with ${KILN_GAP_MM} mm to its neighbours`,
  lustre: `with ${KILN_GAP_MM} mm to its neighbours`,
};
