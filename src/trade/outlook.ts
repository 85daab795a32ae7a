import { addDays } from './calendar.js';
import { checkedDay } from './day.js';
import { type Demand, type Drawing, drawingOf } from './demand.js';
import { wholeIn } from './number.js';
import { type Both, chanceAbove, most, NOTHING, passedBy, plusOutcomes, type Spread } from './spread.js';

/** All in whole base units (g, ml, pieces); days are YYYY-MM-DD. */
export type Stock = {
  onHand: number;
  arrivals?: readonly { day: string; quantity: number }[];
  demands: readonly Demand[];
  packQuantity: number;
  leadTimeDays: number;
};

/** A day on which something is drawn or arrives, at its end; below zero: so much is missing. */
export type OutlookRow = {
  day: string;
  leftIfBooked: number;
  leftExpected: number;
  /** it is worse than this with one chance in ten at most */
  leftAtWorst: number;
  /** the chance of having run short on this day or before it */
  shortChance: number;
  /** which demands draw on this day, by their place in the list */
  drawing: number[];
};

export type Outlook = {
  rows: OutlookRow[];
  /** the first day by which there is that chance of having run short; `sure`: from bookings alone; null: never */
  shortOn: { oneInTen: string | null; oneInTwo: string | null; sure: string | null };
  /** the last day to order, so that it is there the day before the chance is one in ten */
  orderBy: string | null;
  /** the fewest that bring the chance of running short under one in ten over all days; 0 where nothing need be ordered */
  packs: number;
  /** what each demand still draws in all */
  needs: { booked: number; expected: number }[];
};

const ONE_IN_TEN = 0.1;
const ONE_IN_TWO = 0.5;
const FLOAT_ERROR = 1e-12;
const MOST_CELLS = 2048;

/** The end of a stretch without arrivals: what is left before the draws that chance decides, and those. */
type Stretch = { day: string; left: number; spread: Both };

/**
 * Stock of one material against all that will draw on it. What arrives on a day can be used on that day.
 *
 * The chances are reckoned, not simulated: courses fill independently, one count of students governs all days of its course, and
 * what is drawn by a day is the sum of what each course draws by then (a convolution). While all that is open comes to 2048 base
 * units or less it is exact; above that in cells of `step` = ceil(open / 2048) units, where each of the C open courses is off by
 * less than a cell, so that every chance lies between the exact ones at C steps more and C steps less on the shelf.
 *
 * Having run short by a day: draws only grow, so between two arrivals it is enough to look at the last day, and without arrivals
 * the chance is exact. Across arrivals it is 1 - (1 - p1)(1 - p2)..., one p for each stretch between them: an upper bound, since the
 * draws of all days grow with the same independent counts and are therefore associated (Esary, Proschan and Walkup 1967; from memory).
 *
 * @throws RangeError on a day that is no date, or a quantity that is not whole or is below zero
 */
export function stockOutlook({ onHand, arrivals = [], demands, packQuantity, leadTimeDays }: Stock): Outlook {
  wholeIn(onHand, 'What is on hand', 0, Number.MAX_SAFE_INTEGER);
  wholeIn(packQuantity, 'The quantity of a pack', 1, Number.MAX_SAFE_INTEGER);
  const arriving = new Map<string, number>();
  for (const { day, quantity } of arrivals) {
    wholeIn(quantity, 'What arrives', 0, Number.MAX_SAFE_INTEGER);
    arriving.set(checkedDay(day), (arriving.get(day) ?? 0) + quantity);
  }
  const drawings = demands.map(drawingOf);
  const drawingOn = whoDrawsOn(drawings);
  const days = [...new Set([...arriving.keys(), ...drawingOn.keys()])].sort();
  const draws = drawsOf(drawings);

  const stretches: Stretch[] = [];
  let stock = onHand;
  let keptUp = 1; // the chance that no earlier stretch ran short, or less
  const rows = days.map((day): OutlookRow => {
    const arrived = arriving.get(day) ?? 0;
    if (arrived > 0) keptUp = 1 - chanceOver(stretches, draws.step);
    if (arrived > 0 || stretches.length === 0)
      stretches.push({ day, left: stock, spread: { large: NOTHING, small: NOTHING } });
    stock += arrived;
    const { booked, known, expected, spread } = draws.by(day);
    const stretch = { day, left: stock - known, spread };
    stretches[stretches.length - 1] = stretch;
    return {
      day,
      leftIfBooked: stock - booked,
      leftExpected: Math.round(stock - expected),
      leftAtWorst: stretch.left - passedBy(spread, ONE_IN_TEN + FLOAT_ERROR, draws.step),
      shortChance: 1 - keptUp * (1 - chanceOver([stretch], draws.step)),
      drawing: drawingOn.get(day) ?? [],
    };
  });
  const firstAt = (chance: number) => rows.find((row) => row.shortChance >= chance - FLOAT_ERROR)?.day ?? null;
  const oneInTen = firstAt(ONE_IN_TEN);
  const sure = rows.find((row) => row.leftIfBooked < 0)?.day ?? null;
  return {
    rows,
    shortOn: { oneInTen, oneInTwo: firstAt(ONE_IN_TWO), sure },
    orderBy: oneInTen === null ? null : addDays(oneInTen, -leadTimeDays - 1),
    packs: oneInTen === null ? 0 : packsFor(stretches, oneInTen, packQuantity, draws.step),
    needs: drawings.map((drawing) => ({
      booked: drawing.unitsBy(drawing.last, 0),
      expected: Math.round(mean(drawing, drawing.last)),
    })),
  };
}

/** For each day the demands that draw on it, by their place in the list. */
function whoDrawsOn(drawings: readonly Drawing[]): Map<string, number[]> {
  const found = new Map<string, number[]>();
  for (const [i, { days }] of drawings.entries())
    for (const day of days) {
      const others = found.get(day);
      if (others) others.push(i);
      else found.set(day, [i]);
    }
  return found;
}

/** The chance of having run short in one of these stretches, with so much more on the shelf from a day on. */
function chanceOver(stretches: readonly Stretch[], step: number, more = 0, from = ''): number {
  return (
    1 -
    stretches.reduce((keptUp, { day, left, spread }) => {
      const there = left + (day >= from ? more : 0);
      return keptUp * (1 - (there < 0 ? 1 : chanceAbove(spread, there, step)));
    }, 1)
  );
}

function packsFor(stretches: readonly Stretch[], from: string, packQuantity: number, step: number): number {
  const enough = (packs: number) => chanceOver(stretches, step, packs * packQuantity, from) < ONE_IN_TEN - FLOAT_ERROR;
  let few = 0;
  let many = Math.ceil(Math.max(1, ...stretches.map(({ left, spread }) => most(spread, step) - left)) / packQuantity);
  while (many - few > 1) {
    const half = Math.floor((few + many) / 2);
    if (enough(half)) many = half;
    else few = half;
  }
  return many;
}

const mean = ({ chances, unitsBy }: Drawing, day: string): number =>
  chances.reduce((sum, chance, more) => sum + chance * unitsBy(day, more), 0);

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
