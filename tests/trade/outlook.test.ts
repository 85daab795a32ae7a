import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Demand, moreToCome } from '../../src/trade/demand.js';
import { type Stock, stockOutlook } from '../../src/trade/outlook.js';
import { NOTHING, plusOutcomes } from '../../src/trade/spread.js';

const dayOf = (n: number) => `2026-03-${String(n).padStart(2, '0')}`;
const plain = { packQuantity: 10, leadTimeDays: 3 };
const rising = (numbers: number[]) => numbers.every((n, i) => i === 0 || n >= (numbers[i - 1] ?? 0) - 1e-12);

const anyDay = fc.integer({ min: 1, max: 9 }).map(dayOf);
const anyDemand = (mostEach: number, mostMore: number): fc.Arbitrary<Demand> =>
  fc.record({
    booked: fc.nat(3),
    more: fc.array(fc.integer({ min: 1, max: 9 }), { minLength: 1, maxLength: mostMore + 1 }).map((weights) => {
      const all = weights.reduce((a, b) => a + b, 0);
      return weights.map((weight) => weight / all);
    }),
    perStudent: fc.integer({ min: 0, max: mostEach * 10 }).map((tenths) => String(tenths / 10)),
    drawn: fc.nat(4),
    sessions: fc.array(fc.record({ day: anyDay, weight: fc.integer({ min: 1, max: 4 }) }), {
      minLength: 1,
      maxLength: 3,
    }),
  });

/** All that may come, each with its chance: one number of students for each course, as often as there are such tuples. */
function everyOutcome(demands: readonly Demand[]): { chance: number; more: number[] }[] {
  return demands.reduce<{ chance: number; more: number[] }[]>(
    (so, { more }) => so.flatMap((one) => more.map((p, n) => ({ chance: one.chance * p, more: [...one.more, n] }))),
    [{ chance: 1, more: [] }],
  );
}

/** What a course with so many more has drawn by a day, said once more in plain words. */
function drawnBy({ booked, perStudent, drawn, sessions }: Demand, more: number, day: string): number {
  const weigh = (some: Demand['sessions']) => some.reduce((sum, { weight }) => sum + weight, 0);
  const tenths = Math.round(Number(perStudent) * 10) * (booked + more) * weigh(sessions.filter((s) => s.day <= day));
  return Math.max(0, Math.ceil(tenths / (10 * weigh(sessions))) - drawn);
}

function shortByTuples({ onHand, arrivals = [], demands }: Stock, days: string[], by: string): number {
  const shortOn = (more: number[], day: string) =>
    demands.reduce((sum, demand, i) => sum + drawnBy(demand, more[i] ?? 0, day), 0) >
    onHand + arrivals.filter((a) => a.day <= day).reduce((sum, { quantity }) => sum + quantity, 0);
  return everyOutcome(demands)
    .filter(({ more }) => days.some((day) => day <= by && shortOn(more, day)))
    .reduce((sum, { chance }) => sum + chance, 0);
}

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

  test('across arrivals is no less than that, none where that is none, and falls on no day', () => {
    const anyArrival = fc.record({ day: anyDay, quantity: fc.nat(15) });
    fc.assert(
      fc.property(
        fc.nat(20),
        fc.array(anyArrival, { minLength: 1, maxLength: 3 }),
        fc.array(anyDemand(8, 3), { maxLength: 3 }),
        (onHand, arrivals, demands) => {
          const stock = { ...plain, onHand, arrivals, demands };
          const { rows } = stockOutlook(stock);
          const days = rows.map(({ day }) => day);
          expect(rising(rows.map(({ shortChance }) => shortChance))).toBe(true);
          for (const { day, shortChance } of rows) {
            const exact = shortByTuples(stock, days, day);
            expect(shortChance).toBeGreaterThanOrEqual(exact - 1e-11);
            if (exact < 1e-12) expect(shortChance).toBeLessThan(1e-9);
          }
        },
      ),
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

  test('in cells lies between the exact ones with a cell for each course more and less on the shelf', () => {
    const few = fc.array(anyDemand(3000, 4), { minLength: 1, maxLength: 3 });
    fc.assert(
      fc.property(fc.nat(30_000), few, (onHand, demands) => {
        const open = demands.filter(({ more }) => more.length > 1);
        const range = open.reduce((sum, demand) => sum + drawnBy(demand, demand.more.length - 1, '9999'), 0);
        const off = open.length * Math.max(1, Math.ceil(range / 2048));
        const { rows } = stockOutlook({ ...plain, onHand, demands });
        const days = rows.map(({ day }) => day);
        const exact = (shelf: number, day: string) => shortByTuples({ ...plain, onHand: shelf, demands }, days, day);
        for (const { day, shortChance } of rows) {
          expect(shortChance).toBeLessThanOrEqual(exact(onHand - off, day) + 1e-11);
          expect(shortChance).toBeGreaterThanOrEqual(exact(onHand + off, day) - 1e-11);
        }
      }),
    );
  });

  test('comes from chances that stay one in all', () => {
    const outcomes = moreToCome(200, 0, '4.5', '3.5').map((chance, n) => ({ chance, units: n * 1047 }));
    let total = NOTHING;
    for (let i = 0; i < 40; i++) total = plusOutcomes(total, outcomes, 4096);
    expect(Math.abs(total.cells.reduce((sum, p) => sum + p, 0) - 1)).toBeLessThan(1e-12);
  });
});

describe('what is of no use after a day', () => {
  // whole units for each student and day, so that no rounding makes a larger course draw less of a day
  const wholeDemand = anyDemand(0, 3).chain((demand) =>
    fc.record({ each: fc.integer({ min: 0, max: 3 }) }).map(({ each }) => {
      const whole = demand.sessions.reduce((sum, { weight }) => sum + weight, 0);
      return { ...demand, perStudent: String(each * whole), drawn: 0 };
    }),
  );
  const anyUse = fc.array(fc.record({ day: anyDay, quantity: fc.nat(25) }), { maxLength: 3 });
  const anyArrival = fc.array(fc.record({ day: anyDay, quantity: fc.nat(15) }), { maxLength: 1 });
  const anyStock = fc.record({
    onHand: fc.nat(40),
    useBy: anyUse,
    arrivals: anyArrival,
    demands: fc.array(wholeDemand, { maxLength: 3 }),
  });

  /** The shelf lot by lot, first in, first out: what is left each day, or null from when it has run short. */
  function lotByLot(
    { onHand, useBy, arrivals }: Pick<Stock, 'onHand' | 'useBy' | 'arrivals'>,
    days: string[],
    drawnBy: (day: string) => number,
  ) {
    const sorted = [...(useBy ?? [])].sort((a, b) => (a.day < b.day ? -1 : 1));
    const perishing = sorted.reduce((sum, { quantity }) => sum + quantity, 0);
    const lots = [...sorted.map((lot) => ({ ...lot })), { day: '9999', quantity: onHand - perishing }];
    const waiting = [...(arrivals ?? [])];
    const left = (day: string) => lots.filter((lot) => lot.day >= day).reduce((sum, { quantity }) => sum + quantity, 0);
    let [drawn, isShort] = [0, false];
    return days.map((day) => {
      for (const { quantity } of waiting.filter((a) => a.day === day)) lots.push({ day: '9999', quantity });
      let wanted = drawnBy(day) - drawn;
      drawn += wanted;
      for (const lot of lots.filter((one) => one.day >= day)) {
        const taken = Math.min(wanted, lot.quantity);
        lot.quantity -= taken;
        wanted -= taken;
      }
      isShort ||= wanted > 0;
      return isShort ? null : left(day);
    });
  }

  const possible = ({ onHand, useBy = [] }: Pick<Stock, 'onHand' | 'useBy'>) =>
    useBy.reduce((sum, { quantity }) => sum + quantity, 0) <= onHand;

  test('is drawn first and then gone: what is left is what stands there lot by lot', () => {
    fc.assert(
      fc.property(anyStock, (stock) => {
        fc.pre(possible(stock));
        const certain = { ...stock, demands: stock.demands.map((demand) => ({ ...demand, more: [1] })) };
        const { rows } = stockOutlook({ ...plain, ...certain });
        const days = rows.map(({ day }) => day);
        const left = lotByLot({ ...plain, ...stock }, days, (day) =>
          certain.demands.reduce((sum, demand) => sum + drawnBy(demand, 0, day), 0),
        );
        for (const [i, row] of rows.entries()) {
          if (left[i] === null) expect(rows.slice(0, i + 1).some(({ leftIfBooked }) => leftIfBooked < 0)).toBe(true);
          else expect(row).toMatchObject({ leftIfBooked: left[i], leftExpected: left[i], shortChance: 0 });
        }
      }),
    );
  });

  test('makes no chance of running short less than it is, none of none, and all of certain', () => {
    fc.assert(
      fc.property(anyStock, (stock) => {
        fc.pre(possible(stock));
        const { rows } = stockOutlook({ ...plain, ...stock });
        const days = rows.map(({ day }) => day);
        const exact = days.map(() => 0);
        for (const { chance, more } of everyOutcome(stock.demands)) {
          const drawn = (day: string) =>
            stock.demands.reduce((sum, demand, i) => sum + drawnBy(demand, more[i] ?? 0, day), 0);
          for (const [i, left] of lotByLot({ ...plain, ...stock }, days, drawn).entries())
            if (left === null) exact[i] = (exact[i] ?? 0) + chance;
        }
        expect(rising(rows.map(({ shortChance }) => shortChance))).toBe(true);
        for (const [i, { shortChance }] of rows.entries()) {
          expect(shortChance).toBeGreaterThanOrEqual((exact[i] ?? 0) - 1e-11);
          if ((exact[i] ?? 0) < 1e-12) expect(shortChance).toBeLessThan(1e-9);
        }
      }),
      { numRuns: 500 },
    );
  });

  test('says how much will not be used in time, and asks for so much more', () => {
    const course = (day: number): Demand => ({
      ...{ booked: 3, more: [1], perStudent: '10', drawn: 0 },
      sessions: [{ day: dayOf(day), weight: 1 }],
    });
    const stock = { ...plain, onHand: 60, demands: [course(2), course(8)] };
    expect(stockOutlook(stock)).toMatchObject({ packs: 0, spoils: [] });
    const spoiling = stockOutlook({ ...stock, useBy: [{ day: dayOf(4), quantity: 45 }] });
    expect(spoiling.spoils).toEqual([{ day: dayOf(4), quantity: 15 }]);
    expect(spoiling.rows.map(({ day, leftIfBooked }) => [day, leftIfBooked])).toEqual([
      [dayOf(2), 30],
      [dayOf(5), 15],
      [dayOf(8), -15],
    ]);
    expect(spoiling).toMatchObject({ packs: 2, shortOn: { sure: dayOf(8) } });
  });

  test('that is past already counts for nothing', () => {
    const stock = { ...plain, onHand: 60, useBy: [{ day: '2026-02-01', quantity: 50 }] };
    const demand = {
      booked: 2,
      more: [0.5, 0.5],
      perStudent: '10',
      drawn: 0,
      sessions: [{ day: dayOf(2), weight: 1 }],
    };
    const found = stockOutlook({ ...stock, demands: [demand] });
    expect(found.rows).toMatchObject([{ day: dayOf(2), leftIfBooked: -10, shortChance: 1 }]);
    expect(found.spoils).toEqual([{ day: '2026-02-01', quantity: 50 }]);
  });
});

describe('the outlook', () => {
  // two courses of one open place each, which fills with one chance in four; each student draws 10, half on each of two days
  const course = (days: number[]): Demand => ({
    ...{ booked: 1, more: [0.75, 0.25], perStudent: '10', drawn: 0 },
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

  test('orders the fewest packs that will do', () => {
    fc.assert(
      fc.property(fc.nat(60), fc.array(anyDemand(8, 3), { maxLength: 4 }), (onHand, all) => {
        const { packs, rows } = stockOutlook({ ...plain, onHand, demands: all });
        const lastWith = (count: number) =>
          stockOutlook({ ...plain, onHand: onHand + count * plain.packQuantity, demands: all }).rows.at(-1)
            ?.shortChance ?? 0;
        expect(lastWith(packs)).toBeLessThan(0.1);
        if (packs > 0) expect(lastWith(packs - 1)).toBeGreaterThanOrEqual(0.1 - 1e-12);
        for (const row of rows) {
          expect(row.leftAtWorst).toBeLessThanOrEqual(row.leftIfBooked);
          expect(row.leftExpected).toBeLessThanOrEqual(row.leftIfBooked);
          if (Math.abs(row.shortChance - 0.1) > 1e-9) expect(row.leftAtWorst < 0).toBe(row.shortChance > 0.1);
        }
      }),
    );
  });

  test('takes what was drawn already off the first draws', () => {
    const [demand] = [{ ...course([2, 4]), more: [1], drawn: 7 }];
    const { rows, needs } = stockOutlook({ ...plain, onHand: 3, demands: [demand] });
    expect(rows.map(({ leftIfBooked }) => leftIfBooked)).toEqual([3, 0]);
    expect(needs).toEqual([{ booked: 3, expected: 3 }]);
  });

  test('refuses what cannot be', () => {
    const one =
      (changes: Partial<Demand>, onHand = 1) =>
      () =>
        stockOutlook({ ...plain, onHand, demands: [{ ...course([2]), ...changes }] });
    for (const day of ['2026-02-30', '3 March', '2026-3-3', ''])
      expect(one({ sessions: [{ day, weight: 1 }] })).toThrow(/is no date/);
    expect(one({ perStudent: '-1' })).toThrow(/^What a student draws/);
    expect(one({ drawn: 0.5 })).toThrow(/^What was drawn already/);
    expect(one({ more: [0.5, 0.4] })).toThrow(/must add up to 1/);
    expect(one({ sessions: [] })).toThrow(/needs a day/);
    expect(one({}, -1)).toThrow(/^What is on hand/);
  });
});
