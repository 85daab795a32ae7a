import { addDays } from './calendar.js';
import { checkedDay } from './day.js';
import { type Demand, type Drawing, drawingOf } from './demand.js';
import { wholeIn } from './number.js';
import { anyShort, type Shelf, shelvesOf } from './shelf.js';

/** All in whole base units (g, ml, pieces); days are YYYY-MM-DD. */
export type Stock = {
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
  /** the first day by which there is that chance of having run short; `sure`: from bookings alone; null: never */
  shortOn: { oneInTen: string | null; oneInTwo: string | null; sure: string | null };
  /** the last day to order, so that it is there the day before the chance is one in ten */
  orderBy: string | null;
  /** the fewest that bring the chance of running short under one in ten over all days; 0 where nothing need be ordered */
  packs: number;
  /** what each demand still draws in all */
  needs: { booked: number; expected: number }[];
  /** what of it will not have been used by its day, if as many come as expected */
  spoils: { day: string; quantity: number }[];
};

const ONE_IN_TEN = 0.1;
const ONE_IN_TWO = 0.5;
const FLOAT_ERROR = 1e-12;

/**
 * Stock of one material against all that will draw on it. What arrives on a day can be used on that day.
 *
 * The chances are reckoned, not simulated: courses fill independently, one count of students governs all days of its course, and
 * what is drawn by a day is the sum of what each course draws by then (a convolution). While all that is open comes to 2048 base
 * units or less it is exact; above that in cells of `step` = ceil(open / 2048) units, where each of the C open courses is off by
 * less than a cell, so that every chance lies between the exact ones at C steps more and C steps less on the shelf.
 *
 * Having run short by a day: draws only grow, so between two arrivals it is enough to look at the last day, and without arrivals
 * the chance is exact. Across arrivals, and where something may spoil, it is an upper bound (shelf.ts).
 *
 * @throws RangeError on a day that is no date, or a quantity that is not whole or is below zero
 */
export function stockOutlook({
  onHand,
  arrivals = [],
  useBy = [],
  demands,
  packQuantity,
  leadTimeDays,
}: Stock): Outlook {
  wholeIn(onHand, 'What is on hand', 0, Number.MAX_SAFE_INTEGER);
  wholeIn(packQuantity, 'The quantity of a pack', 1, Number.MAX_SAFE_INTEGER);
  const arriving = byDay(arrivals, 'What arrives');
  const spoiling = byDay(useBy, 'What is to be used by a day');
  const drawings = demands.map(drawingOf);
  const drawingOn = whoDrawsOn(drawings);
  const shelves = shelvesOf(spoiling, drawings);
  const lastDraw = [...drawingOn.keys()].reduce((last, day) => (day > last ? day : last), '');
  const spoilt = [...spoiling.keys()].map((day) => addDays(day, 1)).filter((day) => day <= lastDraw);
  const firstDay = [...arriving.keys(), ...drawingOn.keys()].reduce(
    (first, day) => (day < first ? day : first),
    '9999',
  );
  const days = [
    ...new Set([...arriving.keys(), ...drawingOn.keys(), ...spoilt.filter((day) => day > firstDay)]),
  ].sort();

  let stock = onHand;
  const rows = days.map((day): OutlookRow => {
    const arrived = arriving.get(day) ?? 0;
    stock += arrived;
    const open = shelves.filter((shelf) => shelf.opens(day));
    const left = open.map((shelf) => shelf.lookAt(day, stock, arrived > 0));
    const lowest = (of: (one: (typeof left)[number]) => number) => Math.min(...left.map(of));
    return {
      day,
      leftIfBooked: lowest(({ booked }) => booked),
      leftExpected: Math.round(lowest(({ expected }) => expected)),
      leftAtWorst: lowest(({ passed }) => passed(ONE_IN_TEN / left.length + FLOAT_ERROR)),
      shortChance: anyShort(shelves),
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
    packs: oneInTen === null ? 0 : packsFor(shelves, oneInTen, packQuantity),
    needs: drawings.map((drawing) => ({
      booked: drawing.unitsBy(drawing.last, 0),
      expected: Math.round(mean(drawing, drawing.last)),
    })),
    spoils: spoilsOf(spoiling, drawings),
  };
}

/** Quantities by their day, the earliest first. */
function byDay(list: readonly { day: string; quantity: number }[], what: string): Map<string, number> {
  const found = new Map<string, number>();
  for (const { day, quantity } of [...list].sort((a, b) => (a.day < b.day ? -1 : 1))) {
    wholeIn(quantity, what, 0, Number.MAX_SAFE_INTEGER);
    found.set(checkedDay(day), (found.get(day) ?? 0) + quantity);
  }
  return found;
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

/** The fewest packs, there from a day on, that bring the chance of running short under one in ten. What is bought now keeps. */
function packsFor(shelves: readonly Shelf[], from: string, packQuantity: number): number {
  const enough = (packs: number) => anyShort(shelves, packs * packQuantity, from) < ONE_IN_TEN - FLOAT_ERROR;
  let few = 0;
  let many = Math.ceil(Math.max(1, ...shelves.map((shelf) => shelf.mostMissing())) / packQuantity);
  while (many - few > 1) {
    const half = Math.floor((few + many) / 2);
    if (enough(half)) many = half;
    else few = half;
  }
  return many;
}

const mean = ({ chances, unitsBy }: Drawing, day: string): number =>
  chances.reduce((sum, chance, more) => sum + chance * unitsBy(day, more), 0);

/** First in, first out: what is drawn by a day comes from what spoils first. */
function spoilsOf(spoiling: ReadonlyMap<string, number>, drawings: readonly Drawing[]): Outlook['spoils'] {
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
