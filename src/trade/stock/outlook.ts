import { addDays } from '../calendar/calendar.js';
import { parseDay } from '../calendar/parse-day.js';
import { unitsPassedWith } from '../maths/distribution.js';
import { wholeIn } from '../maths/number.js';
import { type Demand, type DrawPlan, drawPlanOf } from './demand.js';
import { fewestPacks } from './fewest-packs.js';
import { type ShelfDay, type ShelfState, shortBy, stockStatesByDay } from './shortage.js';
import { mostOpenUnits } from './total-draws.js';
import { FLOAT_ERROR, MOST_WORK, SEEN, withinWorkLimit } from './work-limit.js';

/** All in whole base units (g, ml, pieces); days are YYYY-MM-DD. */
export type StockOnHand = {
  onHand: number;
  arrivals?: readonly { day: string; quantity: number }[];
  /** what of all that is on hand or arrives is of no use after the end of a day, in the order in which it is drawn */
  useBy?: readonly { day: string; quantity: number }[];
  demands: readonly Demand[];
  packQuantity: number;
  leadTimeDays: number;
};

/** A day on which something is drawn, arrives or has spoilt, at its end; below zero: so much is missing. */
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
  /** every chance is at most what it says, since there was no time to work it out: see `shortOn` */
  atMost: boolean;
  /**
   * The first day by which there is that chance of having run short; `sure`: from bookings alone; null: never. Where chances are upper
   * bounds, `oneInTen` is the first day by which there may be one, so that an order is not late, and `oneInTwo` is said of no day.
   */
  shortOn: { oneInTen: string | null; oneInTwo: string | null; sure: string | null };
  /** the last day to order, so that it is there the day before the chance is one in ten */
  orderBy: string | null;
  /** the fewest that bring the chance of running short under one in ten over all days; 0 where nothing need be ordered */
  packs: number;
  /** what each demand still draws in all */
  needs: { booked: number; expected: number }[];
  /** more than this is drawn in all with one chance in ten at most */
  needAtWorst: number;
  /** what of it will not have been used by its day, if as many come as expected */
  spoils: { day: string; quantity: number }[];
};

/** Less than this is enough. */
const ONE_IN_TEN = 0.1;
const ONE_IN_TWO = 0.5;

/**
 * Stock of one material against all that will draw on it. What arrives on a day can be used on that day.
 *
 * The chances are worked out, not simulated: courses fill independently, one count of students governs all days of its course, and
 * what is drawn by a day is the sum of what each course draws by then (a convolution); across deliveries and ends of shelf life, by a
 * pass over the days that keeps only what has not run short (shortage.ts). While all that is open comes to 2048 base units or less it is
 * exact; above that in cells of `step` = ceil(open / 2048) units, where each of the C open courses and each end of a shelf life is off
 * by less than a cell, so that every chance lies between the exact ones at so many steps more and so many less on the shelf. Where
 * many courses lie across deliveries there is only time for a fourth or an eighth as many cells; where not even for that, each chance
 * is an upper bound, and `atMost` is set.
 *
 * @param mostWork additions that may be made for it
 * @throws RangeError on a day that is no date, or a quantity that is not whole or is below zero
 */
export function stockOutlook(
  { onHand, arrivals = [], useBy = [], demands, packQuantity, leadTimeDays }: StockOnHand,
  mostWork = MOST_WORK,
): Outlook {
  wholeIn(onHand, 'What is on hand', 0, Number.MAX_SAFE_INTEGER);
  wholeIn(packQuantity, 'The quantity of a pack', 1, Number.MAX_SAFE_INTEGER);
  const arriving = byDay(arrivals, 'What arrives');
  const spoiling = byDay(useBy, 'What is to be used by a day');
  const drawings = demands.map(drawPlanOf);
  const drawingOn = whoDrawsOn(drawings);
  const shown = daysShown([...arriving.keys()], [...drawingOn.keys()], [...spoiling.keys()]);
  const days = shelfDays(onHand, arriving, spoiling, shown);
  const found = withinWorkLimit(mostOpenUnits(drawings), mostWork, (by) => {
    const states = stockStatesByDay(days, drawings, by);
    const { shorts } = shortBy(days, states, by);
    const from = days.find(({ day }, i) => shown.has(day) && isAbout(shorts[i]?.short ?? 0, ONE_IN_TEN))?.day;
    const packs =
      from === undefined ? 0 : fewestPacks({ days, states, by, from, packQuantity, under: ONE_IN_TEN - FLOAT_ERROR });
    return { states, shorts, step: by.step, packs };
  });
  const byBooked = leftBy(days, found.states, ({ booked }) => booked);
  const byExpected = leftBy(days, found.states, ({ expected }) => expected);
  const rows = days.flatMap(({ day, come }, i): OutlookRow[] => {
    const { drawn, gone, past } = found.states[i] as ShelfState;
    if (!shown.has(day)) return [];
    return [
      {
        day,
        leftIfBooked: byBooked[i] ?? 0,
        leftExpected: Math.round(byExpected[i] ?? 0),
        leftAtWorst:
          come -
          drawn.known -
          unitsPassedWith(gone, Math.max(0, ONE_IN_TEN + FLOAT_ERROR - past.overlooked), found.step),
        shortChance: found.shorts[i]?.short ?? 0,
        drawing: drawingOn.get(day) ?? [],
      },
    ];
  });
  const firstAt = (chance: number) => rows.find(({ shortChance }) => isAbout(shortChance, chance))?.day ?? null;
  const oneInTen = firstAt(ONE_IN_TEN);
  const atMost = found.shorts.some(({ overlooked }) => overlooked > SEEN);
  const sure = rows.find((row) => row.leftIfBooked < 0)?.day ?? null;
  const last = found.states.at(-1)?.drawn;
  return {
    rows,
    atMost,
    shortOn: { oneInTen, oneInTwo: atMost ? null : firstAt(ONE_IN_TWO), sure },
    orderBy: oneInTen === null ? null : addDays(oneInTen, -leadTimeDays - 1),
    packs: found.packs,
    needs: drawings.map((drawing) => ({
      booked: drawing.unitsBy(drawing.last)[0] ?? 0,
      expected: Math.round(mean(drawing, drawing.last)),
    })),
    needAtWorst: last ? last.known + unitsPassedWith(last.spread, ONE_IN_TEN + FLOAT_ERROR, found.step) : 0,
    spoils: spoilsOf(spoiling, drawings),
  };
}

const isAbout = (chance: number, least: number): boolean => chance >= least - FLOAT_ERROR;

/** The days of the rows: on which something is drawn or arrives, or on which something is missed that has spoilt the day before. */
function daysShown(arriving: string[], drawing: string[], spoiling: string[]): ReadonlySet<string> {
  const [first] = [...arriving, ...drawing].sort();
  const last = [...drawing].sort().at(-1) ?? '';
  const spoilt = spoiling
    .map((day) => addDays(day, 1))
    .filter((day) => first !== undefined && first < day && day <= last);
  return new Set([...arriving, ...drawing, ...spoilt].sort());
}

/** Those days, one before them all, and those after which something is of no use, with what has come and what has spoilt. */
function shelfDays(
  onHand: number,
  arriving: ReadonlyMap<string, number>,
  spoiling: ReadonlyMap<string, number>,
  shown: ReadonlySet<string>,
): ShelfDay[] {
  const last = [...shown].at(-1) ?? '';
  const days = new Set([BEFORE_ALL, ...shown, ...[...spoiling.keys()].filter((day) => day < last)]);
  let [come, spoilt] = [onHand, 0];
  return [...days].sort().map((day) => {
    come += arriving.get(day) ?? 0;
    const spoils = spoiling.get(day) ?? 0;
    spoilt += spoils;
    return { day, come, spoilt: spoils > 0 ? spoilt : 0 };
  });
}

const BEFORE_ALL = '';

/** What is left each day if so much is drawn: what spoils unused is gone too. */
function leftBy(
  days: readonly ShelfDay[],
  states: readonly ShelfState[],
  of: (drawn: ShelfState['drawn']) => number,
): number[] {
  let unused = 0;
  return days.map(({ come, spoilt }, i) => {
    const drawn = of((states[i] as ShelfState).drawn);
    const left = come - drawn - unused;
    unused = Math.max(unused, spoilt - drawn);
    return left;
  });
}

/** Quantities by their day, the earliest first. */
function byDay(list: readonly { day: string; quantity: number }[], what: string): Map<string, number> {
  const found = new Map<string, number>();
  for (const { day, quantity } of [...list].sort((a, b) => (a.day < b.day ? -1 : 1))) {
    wholeIn(quantity, what, 0, Number.MAX_SAFE_INTEGER);
    found.set(parseDay(day), (found.get(day) ?? 0) + quantity);
  }
  return found;
}

/** For each day the demands that draw on it, by their place in the list. */
function whoDrawsOn(drawings: readonly DrawPlan[]): Map<string, number[]> {
  const found = new Map<string, number[]>();
  for (const [i, { days }] of drawings.entries())
    for (const day of days) {
      const others = found.get(day);
      if (others) others.push(i);
      else found.set(day, [i]);
    }
  return found;
}

const mean = ({ chances, unitsBy }: DrawPlan, day: string): number =>
  unitsBy(day).reduce((sum, units, more) => sum + (chances[more] ?? 0) * units, 0);

/** First in, first out: what is drawn by a day comes from what spoils first. */
function spoilsOf(spoiling: ReadonlyMap<string, number>, drawings: readonly DrawPlan[]): Outlook['spoils'] {
  let [gone, spoilt] = [0, 0];
  return [...spoiling].flatMap(([day, quantity]) => {
    gone += quantity;
    const drawn = drawings.reduce((sum, drawing) => sum + mean(drawing, day), 0);
    const more = Math.round(gone - drawn) - spoilt;
    if (more <= 0) return [];
    spoilt += more;
    return [{ day, quantity: more }];
  });
}
