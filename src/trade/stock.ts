import { Decimal, roundHalfUp } from './money.js';
import { wholeIn } from './number.js';

/** A delivery or batch: quantity and drawn in whole base units (g, ml, piece), costMinor for all of it. */
export type Lot = { id: string; quantity: number; drawn: number; costMinor: number };
export type Draw = { lotId: string; quantity: number; costMinor: number };

/** What the first so-many units of a lot cost. By running sums, a lot's draws add up to its cost whatever their sizes. */
function costUpTo(lot: Lot, units: number): number {
  if (units === 0) return 0;
  return roundHalfUp(new Decimal(lot.costMinor).times(units).div(lot.quantity));
}

function checkLot(lot: Lot): Lot {
  wholeIn(lot.quantity, 'The quantity of a lot', 0, Number.MAX_SAFE_INTEGER);
  wholeIn(lot.drawn, 'What was drawn from a lot', 0, lot.quantity);
  wholeIn(lot.costMinor, 'The cost of a lot in minor units', 0, Number.MAX_SAFE_INTEGER);
  return lot;
}

/** What is left in a lot is worth: its cost less what its draws have cost. */
export function remainingValueMinor(lot: Lot): number {
  const { drawn, costMinor } = checkLot(lot);
  return costMinor - costUpTo(lot, drawn);
}

/**
 * Draws from lots first in, first out.
 *
 * @param lots     oldest first
 * @param quantity whole base units
 * @returns a draw for each lot touched; shortBy is what the books don't hold, and asks for a count
 * @throws RangeError on quantities that are not whole, or a lot drawn beyond itself
 */
export function fifoDraw(lots: readonly Lot[], quantity: number): { draws: Draw[]; shortBy: number } {
  let wanted = wholeIn(quantity, 'The quantity to draw', 0, Number.MAX_SAFE_INTEGER);
  const draws: Draw[] = [];
  for (const lot of lots) {
    const taken = Math.min(wanted, checkLot(lot).quantity - lot.drawn);
    if (taken === 0) continue;
    const costMinor = costUpTo(lot, lot.drawn + taken) - costUpTo(lot, lot.drawn);
    draws.push({ lotId: lot.id, quantity: taken, costMinor });
    wanted -= taken;
  }
  return { draws, shortBy: wanted };
}

/** day is YYYY-MM-DD; booked counts the places taken, expected those likely to be; base units. */
export type Demand = { day: string; booked: number; expected: number };

export type Outlook = {
  /** one row a day on which something is drawn or arrives, at its end; below zero: so much is missing */
  rows: { day: string; leftIfBooked: number; leftExpected: number }[];
  /** the first day with too little, or null */
  runsShortOn: { booked: string | null; expected: string | null };
  /** the most that is missing on any day: so much must be ordered on top */
  shortBy: { booked: number; expected: number };
};

/**
 * Stock of one material, day by day: what is on hand and ordered, less what booked and expected students will draw.
 * What arrives on a day can be used on that day.
 *
 * @throws RangeError on a day that is no date, or a negative quantity
 */
export function expectedOutlook(stock: {
  onHand: number;
  demands: readonly Demand[];
  onOrder?: readonly { day: string; quantity: number }[];
}): Outlook {
  const byDay = new Map<string, { booked: number; expected: number }>();
  const add = (day: string, booked: number, expected: number) => {
    const so = byDay.get(checkDay(day)) ?? { booked: 0, expected: 0 };
    byDay.set(day, { booked: so.booked + booked, expected: so.expected + expected });
  };
  for (const { day, booked, expected } of stock.demands) add(day, -checkQuantity(booked), -checkQuantity(expected));
  for (const { day, quantity } of stock.onOrder ?? []) add(day, checkQuantity(quantity), quantity);

  let leftIfBooked = stock.onHand;
  let leftExpected = stock.onHand;
  const rows = [...byDay.entries()]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([day, change]) => {
      leftIfBooked += change.booked;
      leftExpected += change.expected;
      return { day, leftIfBooked, leftExpected };
    });
  const missing = (left: number[]) => Math.max(0, ...left.map((units) => -units));
  return {
    rows,
    runsShortOn: {
      booked: rows.find((row) => row.leftIfBooked < 0)?.day ?? null,
      expected: rows.find((row) => row.leftExpected < 0)?.day ?? null,
    },
    shortBy: {
      booked: missing(rows.map((row) => row.leftIfBooked)),
      expected: missing(rows.map((row) => row.leftExpected)),
    },
  };
}

function checkDay(day: string): string {
  // without the date itself 2026-02-31 would pass, and sort into a month that it isn't in
  const date = new Date(`${day}T00:00:00Z`);
  if (!/^\d{4}-\d\d-\d\d$/.test(day) || Number.isNaN(date.getTime()) || date.toISOString().slice(0, 10) !== day) {
    throw new RangeError(`"${day}" is no date. Write it as YYYY-MM-DD.`);
  }
  return day;
}

function checkQuantity(units: number): number {
  return wholeIn(units, 'A quantity in the outlook', 0, Number.MAX_SAFE_INTEGER);
}
