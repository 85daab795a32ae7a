import type { Drawing } from './demand.js';
import { type Both, chanceAbove, most, NOTHING, passedBy, plusOutcomes, type Spread } from './spread.js';

/**
 * The shelf as it is without what is of no use after a day: what has come, less that, less what was drawn since. Drawn first in,
 * first out, the real shelf never holds more than any of these, and always as little as one of them.
 */
export type Shelf = {
  /** Whether it says something of this day. */
  opens(day: string): boolean;
  /** What is left at the end of a day; days must be asked for in their order. `arrived`: something has come on this day. */
  lookAt(day: string, stock: number, arrived: boolean): Left;
  /** The chance of having run short by the last day that was looked at, with so much more on the shelf from a day on. */
  short(more?: number, from?: string): number;
  /** The most that could be missing on any day that was looked at. */
  mostMissing(): number;
  /** The chance that not all of it is used by its day; 1 for the shelf from which nothing has gone. */
  spoils: number;
};
type Left = { booked: number; expected: number; passed(chance: number): number };

/** The end of a stretch without arrivals: what is left before the draws that chance decides, and those. */
type Stretch = { day: string; left: number; spread: Both };

/** The chance of something being off (lack of precision of a float) below which it is none. */
const FLOAT_ERROR = 1e-12;
const MOST_CELLS = 2048;

/** The shelf as it stands, and one for each day after which something is of no use. */
export function shelvesOf(spoiling: ReadonlyMap<string, number>, drawings: readonly Drawing[]): Shelf[] {
  const all = drawsOf(drawings);
  let gone = 0;
  const cuts = [...spoiling].map(([after, quantity]) => {
    gone += quantity;
    const { known, spread } = all.by(after);
    const usedUp = gone - known <= 0 ? 1 : chanceAbove(spread, gone - known - 1, all.step);
    return { after, gone, spoils: 1 - usedUp };
  });
  const entire = { after: '', gone: 0, spoils: 1 };
  const real = [entire, ...cuts.filter(({ spoils }) => spoils > FLOAT_ERROR)];
  const without = real.findIndex((cut, i) => i > 0 && covers(cut, entire, drawings));
  return real.map((cut, i) => {
    const until = real.slice(i + 1).find((later) => covers(later, cut, drawings))?.after;
    // where nobody looks at the entire shelf any more, a cut one stands for it as well
    return shelfWithout(without > 0 && i >= without ? { ...cut, spoils: 1 } : cut, until, drawings);
  });
}

type Cut = { after: string; gone: number; spoils: number };

/** Whether the later cut always leaves as little as the earlier one, so that this one says nothing more from then on. */
function covers(later: Cut, earlier: Cut, drawings: readonly Drawing[]): boolean {
  const between = drawings.map(({ chances, unitsBy }) =>
    Math.max(...chances.map((_, more) => unitsBy(later.after, more) - unitsBy(earlier.after, more))),
  );
  return later.gone - earlier.gone >= between.reduce((sum, units) => sum + units, 0);
}

function shelfWithout({ after, gone, spoils }: Cut, until = '9999', drawings: readonly Drawing[]): Shelf {
  const draws = drawsOf(drawings.flatMap((drawing) => since(drawing, after)));
  const stretches: Stretch[] = [];
  const short = (more = 0, from = '') =>
    1 -
    stretches.reduce((keptUp, { day, left, spread }) => {
      const there = left + (day >= from ? more : 0);
      return keptUp * (1 - (there < 0 ? 1 : chanceAbove(spread, there, draws.step)));
    }, 1);
  let earlier = 0; // the chance that a stretch which is over ran short
  const shortNow = () => {
    const last = stretches.at(-1);
    if (!last) return 0;
    return 1 - (1 - earlier) * (1 - (last.left < 0 ? 1 : chanceAbove(last.spread, last.left, draws.step)));
  };
  return {
    spoils,
    opens: (day) => after < day && day <= until,
    lookAt(day, stock, arrived) {
      const { booked, known, expected, spread } = draws.by(day);
      if (arrived) earlier = shortNow();
      if (arrived || stretches.length === 0) stretches.push({ day, left: 0, spread });
      const stretch = { day, left: stock - gone - known, spread };
      stretches[stretches.length - 1] = stretch;
      return {
        booked: stock - gone - booked,
        expected: stock - gone - expected,
        passed: (chance) => stretch.left - passedBy(spread, chance, draws.step),
      };
    },
    short: (more, from) => (more === undefined ? shortNow() : short(more, from)),
    mostMissing: () => Math.max(0, ...stretches.map(({ left, spread }) => most(spread, draws.step) - left)),
  };
}

/**
 * The chance that any of these shelves has run short: an upper bound. Draws of all days grow with the same independent counts and
 * are therefore associated (Esary, Proschan and Walkup 1967; from memory), so that of two the chance is at most 1 - (1 - p1)(1 - p2),
 * as for the stretches between arrivals. A cut shelf that runs short while all that was cut had been used is the shelf before it,
 * running short; and few draws until a day and many in all are the less likely together: the chance is at most p1 + p2 spoils.
 */
export const anyShort = (shelves: readonly Shelf[], more?: number, from?: string): number =>
  shelves.reduce((before, shelf) => {
    const short = shelf.short(more, from);
    return Math.min(1 - (1 - before) * (1 - short), before + shelf.spoils * short);
  }, 0);

/** What is drawn after a day; nothing of a course that is over by then. */
function since(drawing: Drawing, after: string): Drawing[] {
  if (after < drawing.first) return [drawing];
  if (drawing.last <= after) return [];
  const { unitsBy } = drawing;
  return [{ ...drawing, unitsBy: (day, more) => unitsBy(day, more) - unitsBy(after, more) }];
}

/**
 * What all draw together by a day; days must be asked for in their order. A course that is over is added to the large total once and
 * for all; only those under way are looked at anew for each day.
 */
function drawsOf(drawings: readonly Drawing[]) {
  const range = drawings.reduce(
    (sum, { chances, last, unitsBy }) => sum + (chances.length > 1 ? unitsBy(last, chances.length - 1) : 0),
    0,
  );
  const step = Math.max(1, Math.ceil(range / MOST_CELLS));
  let over = { known: 0, booked: 0, expected: 0, spread: NOTHING };
  const coming = [...drawings].sort((a, b) => (a.first < b.first ? 1 : -1));
  let going: Drawing[] = [];
  const by = (day: string) => {
    for (let next = coming.at(-1); next && next.first <= day; next = coming.at(-1)) going.push(coming.pop() as Drawing);
    over = going.filter(({ last }) => last <= day).reduce((sum, drawing) => plus(sum, drawing, day, step), over);
    going = going.filter(({ last }) => last > day);
    const now = going.reduce((sum, drawing) => plus(sum, drawing, day, step), { ...over, spread: NOTHING });
    return { ...now, spread: { large: over.spread, small: now.spread } };
  };
  return { step, by };
}

type Draws = { known: number; booked: number; expected: number; spread: Spread };

/** The draws with those of one more; `known` are those that nothing can change. */
function plus({ known, booked, expected, spread }: Draws, drawing: Drawing, day: string, step: number): Draws {
  const units = drawing.chances.map((_, more) => drawing.unitsBy(day, more));
  const [least = 0] = units;
  const isOpen = units.length > 1;
  const outcomes = units.map((each, more) => ({ units: each, chance: drawing.chances[more] ?? 0 }));
  return {
    known: known + (isOpen ? 0 : least),
    booked: booked + least,
    expected: expected + outcomes.reduce((sum, { units, chance }) => sum + units * chance, 0),
    spread: isOpen ? plusOutcomes(spread, outcomes, step) : spread,
  };
}
