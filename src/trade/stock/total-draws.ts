import { type Distribution, inCells, NO_UNITS, sumOf, type TwoTotals } from '../maths/distribution.js';
import type { DrawPlan } from './demand.js';

/** What all have drawn together by a day, in base units; `known`: by those whom nobody joins any more, of whom `spread` knows nothing. */
export type TotalDrawn = { known: number; booked: number; expected: number; spread: TwoTotals };

/**
 * What all draw together by a day; days must be asked for in their order. A course that is over is added to the large total once and
 * for all. Of those under way, whoever draws next stands last: on a day only those are added up anew who draw on it, and who stand
 * behind them.
 *
 * @param step   units to a cell
 * @param before what was drawn before, by others
 */
export function totalDrawsBy(drawings: readonly DrawPlan[], step: number, before: Distribution = NO_UNITS) {
  let over: Sum = { known: 0, booked: 0, expected: 0, spread: before };
  const coming = [...drawings].sort((a, b) => (a.first < b.first ? 1 : -1));
  let going: Going[] = [];
  return (day: string): TotalDrawn => {
    const again = going.filter(({ next }) => next <= day).map(({ drawing }) => drawing);
    for (let next = coming.at(-1); next && next.first <= day; next = coming.at(-1))
      again.push(coming.pop() as DrawPlan);
    if (again.length > 0) {
      const list = going.filter(({ next }) => next > day);
      for (const drawing of again) {
        const next = drawing.days.find((later) => later > day);
        const drawn = drawnBy(drawing, day, step);
        if (next === undefined) over = plus(over, drawn);
        else list.push({ drawing, next, drawn, sum: NOTHING });
      }
      going = added(list, going);
    }
    const now = going.at(-1)?.sum ?? NOTHING;
    return {
      known: over.known + now.known,
      booked: over.booked + now.booked,
      expected: over.expected + now.expected,
      spread: { large: over.spread, small: now.spread },
    };
  };
}

/** A course under way: when it draws next, what it has drawn by now, and what those before it in the list have drawn with it. */
type Going = { drawing: DrawPlan; next: string; drawn: Sum; sum: Sum };

/** Whoever draws next last; where nobody is another than before up to a place, the sums up to it are known. */
function added(list: Going[], before: readonly Going[]): Going[] {
  list.sort((a, b) => (a.next < b.next ? 1 : a.next > b.next ? -1 : 0));
  let same = 0;
  while (same < list.length && list[same] === before[same]) same++;
  const found = list.slice(0, same);
  for (const { drawing, next, drawn } of list.slice(same))
    found.push({ drawing, next, drawn, sum: plus(found.at(-1)?.sum ?? NOTHING, drawn) });
  return found;
}

/** The most that those draw of whom not all have booked. */
export const mostOpenUnits = (drawings: readonly DrawPlan[]): number =>
  drawings.reduce((sum, { chances, last, unitsBy }) => sum + (chances.length > 1 ? (unitsBy(last).at(-1) ?? 0) : 0), 0);

type Sum = { known: number; booked: number; expected: number; spread: Distribution };
const NOTHING: Sum = { known: 0, booked: 0, expected: 0, spread: NO_UNITS };

const plus = (a: Sum, b: Sum): Sum => ({
  known: a.known + b.known,
  booked: a.booked + b.booked,
  expected: a.expected + b.expected,
  spread: b.spread === NO_UNITS ? a.spread : a.spread === NO_UNITS ? b.spread : sumOf(a.spread, b.spread),
});

/** What one draws by a day; `known` is what nothing can change. */
function drawnBy({ chances, unitsBy }: DrawPlan, day: string, step: number): Sum {
  const units = unitsBy(day);
  const [least = 0] = units;
  const isOpen = units.length > 1;
  const outcomes = units.map((each, more) => ({ units: each, chance: chances[more] ?? 0 }));
  return {
    known: isOpen ? 0 : least,
    booked: least,
    expected: outcomes.reduce((sum, { units, chance }) => sum + units * chance, 0),
    spread: isOpen ? inCells(outcomes, step) : NO_UNITS,
  };
}
