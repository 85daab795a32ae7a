import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { addOutcomes, NO_UNITS } from '../../../src/trade/maths/distribution.js';
import { type Demand, distributionOfFurtherBookings, type PlannedDraw } from '../../../src/trade/stock/demand.js';
import { type StockOnHand, stockOutlook } from '../../../src/trade/stock/outlook.js';
import { anyDay, anyDemand, dayOf, drawnBy, everyOutcome, plain, rising } from '../../support/demands.js';

function shortByTuples({ onHand, arrivals = [], demands }: StockOnHand, days: string[], by: string): number {
  const shortOn = (more: number[], day: string) =>
    demands.reduce((sum, demand, i) => sum + drawnBy(demand, more[i] ?? 0, day), 0) >
    onHand + arrivals.filter((a) => a.day <= day).reduce((sum, { quantity }) => sum + quantity, 0);
  return everyOutcome(demands)
    .filter(({ more }) => days.some((day) => day <= by && shortOn(more, day)))
    .reduce((sum, { chance }) => sum + chance, 0);
}

/** Three courses whose draws by the days between arrivals take more than the cells there is room for. */
const ACROSS_ARRIVALS: [number, { day: string; quantity: number }[], Demand[]] = [
  9006,
  [2, 4].map((n) => ({ day: dayOf(n), quantity: 1 })),
  [
    { booked: 0, more: [1 / 2, 1 / 2], perStudent: '428.1', sessions: [1, 2], weights: [1, 2] },
    { booked: 1, more: [1 / 3, 1 / 3, 1 / 3], perStudent: '988.4', sessions: [4, 1], weights: [2, 2] },
    { booked: 3, more: [1 / 3, 1 / 3, 1 / 3], perStudent: '2223.5', sessions: [3, 1], weights: [1, 2] },
  ].map(({ booked, more, perStudent, sessions, weights }) => ({
    ...{ booked, more },
    draws: [{ perStudent, drawn: 0, sessions: sessions.map((n, i) => ({ day: dayOf(n), weight: weights[i] ?? 1 })) }],
  })),
];

describe('the chance of having run short', () => {
  test('is that of all tuples of students, counted one by one', () => {
    fc.assert(
      fc.property(fc.nat(40), fc.array(anyDemand(8, 3), { maxLength: 4 }), (onHand, demands) => {
        const stock = { ...plain, onHand, demands };
        const { rows } = stockOutlook(stock);
        const days = rows.map(({ day }) => day);
        for (const { day, shortChance } of rows) expect(shortChance).toBeCloseTo(shortByTuples(stock, days, day), 11);
      }),
    );
  });

  const anyArrivals = fc.array(fc.record({ day: anyDay, quantity: fc.nat(15) }), { minLength: 1, maxLength: 3 });
  const across = fc.record({
    onHand: fc.nat(20),
    arrivals: anyArrivals,
    demands: fc.array(anyDemand(8, 3), { maxLength: 3 }),
  });

  test('across arrivals is that of all tuples too, and never falls', () => {
    fc.assert(
      fc.property(across, (some) => {
        const stock = { ...plain, ...some };
        const { rows, atMost } = stockOutlook(stock);
        const days = rows.map(({ day }) => day);
        expect(atMost).toBe(false);
        expect(rising(rows.map(({ shortChance }) => shortChance))).toBe(true);
        for (const { day, shortChance } of rows) expect(shortChance).toBeCloseTo(shortByTuples(stock, days, day), 11);
      }),
      { numRuns: 400 },
    );
  });

  test('is an upper bound that says so where it would take too long, and falls on no day', () => {
    fc.assert(
      fc.property(across, fc.constantFrom(0, 20, 60), (some, mostWork) => {
        const stock = { ...plain, ...some };
        const { rows, atMost, shortOn } = stockOutlook(stock, mostWork);
        const days = rows.map(({ day }) => day);
        expect(rising(rows.map(({ shortChance }) => shortChance))).toBe(true);
        for (const { day, shortChance } of rows) {
          const exact = shortByTuples(stock, days, day);
          expect(shortChance).toBeGreaterThanOrEqual(exact - 1e-11);
          if (!atMost) expect(shortChance).toBeCloseTo(exact, 6);
          if (day === shortOn.oneInTwo) expect(exact).toBeGreaterThan(0.5 - 1e-11);
          if (shortOn.oneInTen === null || day < shortOn.oneInTen) expect(exact).toBeLessThan(0.1);
        }
      }),
      { numRuns: 300 },
    );
  });

  test('never falls over the days, nor rises with more on the shelf, in cells too', () => {
    fc.assert(
      fc.property(
        fc.nat(40_000),
        fc.nat(5000),
        fc.array(anyDemand(3000, 8), { maxLength: 6 }),
        (onHand, more, demands) => {
          const less = stockOutlook({ ...plain, onHand, demands }).rows.map(({ shortChance }) => shortChance);
          expect(rising(less)).toBe(true);
          const rows = stockOutlook({ ...plain, onHand: onHand + more, demands }).rows;
          for (const [i, row] of rows.entries()) expect(row.shortChance).toBeLessThanOrEqual((less[i] ?? 0) + 1e-12);
        },
      ),
    );
  });

  test('in cells lies between the exact ones with a cell for each course more and less on the shelf, across arrivals too', () => {
    const few = fc.array(anyDemand(3000, 4), { minLength: 1, maxLength: 3 });
    const late = fc.array(fc.record({ day: anyDay, quantity: fc.nat(15_000) }), { maxLength: 2 });
    let boundsOnly = 0;
    fc.assert(
      fc.property(fc.nat(30_000), late, few, (onHand, arrivals, demands) => {
        const open = demands.filter(({ more }) => more.length > 1);
        const range = open.reduce((sum, demand) => sum + drawnBy(demand, demand.more.length - 1, '9999'), 0);
        const { rows, atMost } = stockOutlook({ ...plain, onHand, arrivals, demands });
        const off = open.length * Math.max(1, Math.ceil(range / 256)); // the coarsest cells in which nothing is overlooked
        const days = rows.map(({ day }) => day);
        const exact = (shelf: number, day: string) =>
          shortByTuples({ ...plain, onHand: shelf, arrivals, demands }, days, day);
        if (atMost) boundsOnly++; // three courses may draw on so many days across arrivals that there is no room for all cells
        for (const { day, shortChance } of rows) {
          if (!atMost) expect(shortChance).toBeLessThanOrEqual(exact(onHand - off, day) + 1e-8);
          expect(shortChance).toBeGreaterThanOrEqual(exact(onHand + off, day) - 1e-8);
        }
      }),
      { numRuns: 200, examples: [ACROSS_ARRIVALS] },
    );
    expect(boundsOnly).toBeLessThan(10);
  });

  test('comes from chances that stay one in all', () => {
    const outcomes = distributionOfFurtherBookings(200, 0, '4.5', '3.5').map((chance, n) => ({
      chance,
      units: n * 1047,
    }));
    let total = NO_UNITS;
    for (let i = 0; i < 40; i++) total = addOutcomes(total, outcomes, 4096);
    expect(Math.abs(total.cells.reduce((sum, p) => sum + p, 0) - 1)).toBeLessThan(1e-12);
  });
});

describe('the outlook', () => {
  // two courses of one open place each, which fills with one chance in four; each student draws 10, half on each of two days
  const course = (days: number[]): Demand => ({
    ...{ booked: 1, more: [0.75, 0.25] },
    draws: [draw(days)],
  });
  const draw = (days: number[], drawn = 0) => ({
    ...{ perStudent: '10', drawn },
    sessions: days.map((n) => ({ day: dayOf(n), weight: 60 })),
  });
  const demands = [course([2, 4]), course([4, 8])];

  test('tells each day what is left, how likely it is short by then, and who draws', () => {
    expect(stockOutlook({ ...plain, onHand: 20, demands }).rows).toEqual([
      { day: dayOf(2), leftIfBooked: 15, leftExpected: 14, leftAtWorst: 10, shortChance: 0, drawing: [0] },
      // 10 or 20, and 5 or 10
      { day: dayOf(4), leftIfBooked: 5, leftExpected: 1, leftAtWorst: -5, shortChance: 0.25, drawing: [0, 1] },
      { day: dayOf(8), leftIfBooked: 0, leftExpected: -5, leftAtWorst: -10, shortChance: 0.4375, drawing: [1] },
    ]);
  });

  test('orders so much that it runs short with less than one chance in ten, to be there the day before', () => {
    const found = stockOutlook({ ...plain, onHand: 20, demands });
    expect(found.shortOn).toEqual({ oneInTen: dayOf(4), oneInTwo: null, sure: null });
    expect(found.orderBy).toBe('2026-02-28'); // three days of waiting before 3 March
    expect(found.packs).toBe(1); // with ten more only both places filled run it short: 1 in 16
  });

  test('is sure where those booked alone draw more than there is', () => {
    const { shortOn } = stockOutlook({ ...plain, onHand: 12, demands });
    expect(shortOn).toEqual({ oneInTen: dayOf(4), oneInTwo: dayOf(4), sure: dayOf(4) });
    expect(stockOutlook({ ...plain, onHand: 40, demands })).toMatchObject({ packs: 0, orderBy: null });
  });

  test('counts what arrives on the day it arrives, and no more of it before', () => {
    const late = stockOutlook({ ...plain, onHand: 0, arrivals: [{ day: dayOf(4), quantity: 99 }], demands });
    expect(late.rows.map(({ leftIfBooked }) => leftIfBooked)).toEqual([-5, 84, 79]);
    expect(late.shortOn.sure).toBe(dayOf(2));
    const inTime = stockOutlook({ ...plain, onHand: 10, arrivals: [{ day: dayOf(4), quantity: 99 }], demands });
    expect(inTime.shortOn).toEqual({ oneInTen: null, oneInTwo: null, sure: null });
  });

  test('orders the fewest packs that will do, there from the day on that they are wanted for and not before', () => {
    const some = fc.record({
      onHand: fc.nat(40),
      arrivals: fc.array(fc.record({ day: anyDay, quantity: fc.nat(15) }), { maxLength: 2 }),
      demands: fc.array(anyDemand(8, 3), { maxLength: 4 }),
    });
    fc.assert(
      fc.property(some, ({ onHand, arrivals, demands: all }) => {
        const stock = { ...plain, onHand, arrivals, demands: all };
        const { packs, rows, shortOn } = stockOutlook(stock);
        const days = rows.map(({ day }) => day);
        const from = shortOn.oneInTen;
        const lastWith = (count: number) => {
          const ordered = from ? [{ day: from, quantity: count * plain.packQuantity }] : [];
          return shortByTuples({ ...stock, arrivals: [...arrivals, ...ordered] }, days, '9999');
        };
        expect(lastWith(packs)).toBeLessThan(0.1);
        if (packs > 0) expect(lastWith(packs - 1)).toBeGreaterThanOrEqual(0.1 - 1e-11);
      }),
      { numRuns: 400 },
    );
  });

  test('says what is left at worst, and how much all that comes draws at worst, by one chance in ten', () => {
    fc.assert(
      fc.property(fc.nat(60), fc.array(anyDemand(8, 3), { minLength: 1, maxLength: 4 }), (onHand, all) => {
        const { rows, needAtWorst } = stockOutlook({ ...plain, onHand, demands: all });
        for (const row of rows) {
          expect(row.leftAtWorst).toBeLessThanOrEqual(row.leftIfBooked);
          expect(row.leftExpected).toBeLessThanOrEqual(row.leftIfBooked);
          if (Math.abs(row.shortChance - 0.1) > 1e-9) expect(row.leftAtWorst < 0).toBe(row.shortChance > 0.1);
        }
        const beyond = (units: number) =>
          shortByTuples({ ...plain, onHand: units, demands: all }, [rows.at(-1)?.day ?? ''], '9999');
        expect(beyond(needAtWorst)).toBeLessThanOrEqual(0.1 + 1e-11);
        if (needAtWorst > 0) expect(beyond(needAtWorst - 1)).toBeGreaterThan(0.1 - 1e-11);
      }),
    );
  });

  test('counts what is on order into what is left, and not into what is drawn', () => {
    const { rows, needAtWorst } = stockOutlook({
      ...{ ...plain, onHand: 10, demands: [course([4])] },
      arrivals: [{ day: dayOf(3), quantity: 99 }],
    });
    expect(rows.at(-1)?.leftAtWorst).toBe(89);
    expect(needAtWorst).toBe(20); // the second place is taken with one chance in four
  });

  test('takes what was drawn already off the first draws', () => {
    const demand = { booked: 1, more: [1], draws: [draw([2, 4], 7)] };
    const { rows, needs } = stockOutlook({ ...plain, onHand: 3, demands: [demand] });
    expect(rows.map(({ leftIfBooked }) => leftIfBooked)).toEqual([3, 0]);
    expect(needs).toEqual([{ booked: 3, expected: 3 }]);
  });

  test("counts a student's share in thousandths, rounded up, and what all draw on a day in whole units, rounded up", () => {
    const drawnOf = (perStudent: string, booked: number) => {
      const draws = [{ perStudent, drawn: 0, sessions: [{ day: dayOf(2), weight: 1 }] }];
      return stockOutlook({ ...plain, onHand: 0, demands: [{ booked, more: [1], draws }] }).needs[0]?.booked;
    };
    expect(drawnOf('1.0001', 1000)).toBe(1001); // 1.001 each
    expect(drawnOf('1.001', 1000)).toBe(1001);
    expect(drawnOf('1.0009', 1000)).toBe(1001);
    expect(drawnOf('0.0001', 1)).toBe(1);
    expect(drawnOf('0.5', 3)).toBe(2);
  });

  test('refuses what cannot be', () => {
    const one =
      (changes: Partial<Demand & PlannedDraw>, onHand = 1) =>
      () =>
        stockOutlook({
          ...{ ...plain, onHand },
          demands: [{ ...course([2]), draws: [{ ...draw([2]), ...changes }], ...changes }],
        });
    for (const day of ['2026-02-30', '3 March', '2026-3-3', ''])
      expect(one({ sessions: [{ day, weight: 1 }] })).toThrow(/is not a date/);
    expect(one({ perStudent: '-1' })).toThrow(/^What a student uses/);
    expect(one({ drawn: 0.5 })).toThrow(/^What was used already/);
    expect(one({ more: [0.5, 0.4] })).toThrow(/must add up to 1/);
    expect(one({ sessions: [] })).toThrow(/needs a day/);
    expect(one({}, -1)).toThrow(/^What is on hand/);
  });
});
