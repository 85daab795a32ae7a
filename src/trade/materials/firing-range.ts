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
