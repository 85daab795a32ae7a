import type { Item } from './labels';

export type Level = 'leftIfBooked' | 'leftExpected' | 'leftAtWorst';
type Scale = { x(day: string): number; y(units: number): number; end: number };

/** The corners of a stock line: level until a day's draws, then down. `kept` says how much of a level is drawn. */
export function corners(item: Item, today: string, level: Level, scale: Scale, kept = (units: number) => units) {
  let left = item.onHand;
  const points: [number, number][] = [[scale.x(today), scale.y(kept(left))]];
  for (const row of item.rows) {
    points.push([scale.x(row.day), scale.y(kept(left))]);
    left = row[level];
    points.push([scale.x(row.day), scale.y(kept(left))]);
  }
  points.push([scale.end, scale.y(kept(left))]);
  return points;
}

export const path = (points: readonly (readonly [number, number])[]): string =>
  points.map(([x, y], i) => `${i === 0 ? 'M' : 'L'}${x.toFixed(1)} ${y.toFixed(1)}`).join('');

/** The field between the best and the worst that is likely, above the plank or below it. */
export function band(item: Item, today: string, scale: Scale, side: 'above' | 'below'): string {
  const kept = (units: number) => (side === 'above' ? Math.max(0, units) : Math.min(0, units));
  const best = corners(item, today, 'leftIfBooked', scale, kept);
  const worst = corners(item, today, 'leftAtWorst', scale, kept);
  return `${path([...best, ...worst.reverse()])}Z`;
}

/** Days apart, without regard to clock changes. */
export const daysFrom = (from: string, day: string): number => (Date.parse(day) - Date.parse(from)) / 86_400_000;
