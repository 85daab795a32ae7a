import { Problem } from '../../problems.js';

/** What a body or a glaze bears, in °C; null where nobody knows. */
export type Fireable = { name: string; kind: string; firingRange: { fromC: number; toC: number } | null };
/** A firing by its kind and the highest temperature of its schedule. */
export type FiringHeat = { name: string; kind: 'bisque' | 'glaze' | 'lustre'; topC: number };

/**
 * Why a material may not go through a firing, or null where it may. A range is where the ware matures, which is the work of the
 * glaze firing alone: a bisque firing stays below it on purpose, a lustre firing comes after, so those two must only not exceed
 * it; and a glaze is not on the ware yet when that is bisqued. (Common practice of the trade.)
 */
export function outsideRange(material: Fireable, firing: FiringHeat): string | null {
  const { name, kind, firingRange: range } = material;
  if (range === null || (kind === 'glaze' && firing.kind === 'bisque')) return null;
  const tooHot = firing.topC > range.toC;
  const tooCool = firing.kind === 'glaze' && firing.topC < range.fromC;
  if (!tooHot && !tooCool) return null;
  return `${name} fires at ${range.fromC} to ${range.toC} °C, and "${firing.name}" goes ${tooHot ? '' : 'only '}to ${firing.topC} °C.`;
}

/** Refuses materials that some firing would ruin or leave raw. */
export function refuseOutsideRange(materials: readonly Fireable[], firings: readonly FiringHeat[]): void {
  for (const [i, firing] of firings.entries())
    for (const material of materials) {
      const reason = outsideRange(material, firing);
      if (!reason) continue;
      const detail = `${reason} Choose another material or another schedule.`;
      throw new Problem('outside-range', detail, { errors: [{ pointer: `#/firings/${i}/scheduleId`, detail }] });
    }
}
