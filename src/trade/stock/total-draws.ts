import { addOutcomes, type Distribution, NO_UNITS, type TwoTotals } from '../maths/distribution.js';
import type { DrawPlan } from './demand.js';

/** What all have drawn together by a day, in base units; `known`: by those whom nobody joins any more, of whom `spread` knows nothing. */
export type TotalDrawn = { known: number; booked: number; expected: number; spread: TwoTotals };

/**
 * What all draw together by a day; days must be asked for in their order. A course that is over is added to the large total once and
 * for all; only those under way are looked at anew for each day.
 *
 * @param step   units to a cell
 * @param before what was drawn before, by others
 */
export function totalDrawsBy(drawings: readonly DrawPlan[], step: number, before: Distribution = NO_UNITS) {
  let over: Sum = { known: 0, booked: 0, expected: 0, spread: before };
  const coming = [...drawings].sort((a, b) => (a.first < b.first ? 1 : -1));
  let going: DrawPlan[] = [];
  return (day: string): TotalDrawn => {
    for (let next = coming.at(-1); next && next.first <= day; next = coming.at(-1))
      going.push(coming.pop() as DrawPlan);
    over = going.filter(({ last }) => last <= day).reduce((sum, drawing) => plus(sum, drawing, day, step), over);
    going = going.filter(({ last }) => last > day);
    const now = going.reduce((sum, drawing) => plus(sum, drawing, day, step), { ...over, spread: NO_UNITS });
    return { ...now, spread: { large: over.spread, small: now.spread } };
  };
}

/** The most that those draw of whom not all have booked. */
export const mostOpenUnits = (drawings: readonly DrawPlan[]): number =>
  drawings.reduce(
    (sum, { chances, last, unitsBy }) => sum + (chances.length > 1 ? unitsBy(last, chances.length - 1) : 0),
    0,
  );

type Sum = { known: number; booked: number; expected: number; spread: Distribution };

/** The draws with those of one more; `known` are those that nothing can change. */
function plus({ known, booked, expected, spread }: Sum, drawing: DrawPlan, day: string, step: number): Sum {
  const units = drawing.chances.map((_, more) => drawing.unitsBy(day, more));
  const [least = 0] = units;
  const isOpen = units.length > 1;
  const outcomes = units.map((each, more) => ({ units: each, chance: drawing.chances[more] ?? 0 }));
  return {
    known: known + (isOpen ? 0 : least),
    booked: booked + least,
    expected: expected + outcomes.reduce((sum, { units, chance }) => sum + units * chance, 0),
    spread: isOpen ? addOutcomes(spread, outcomes, step) : spread,
  };
}
