import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Demand } from '../../../src/trade/stock/demand.js';
import { type StockOnHand, stockOutlook } from '../../../src/trade/stock/outlook.js';
import { anyDay, anyDemand, dayOf, drawnBy, everyOutcome, plain, rising } from '../../support/demands.js';

describe('what is of no use after a day', () => {
  const anyUse = fc.array(fc.record({ day: anyDay, quantity: fc.nat(25) }), { maxLength: 3 });
  const anyArrival = fc.record({
    ...{ day: anyDay, quantity: fc.nat(15) },
    useBy: fc.option(fc.integer({ min: 10, max: 14 }).map(dayOf)),
  });
  const anyShelf = fc
    .record({
      onHand: fc.nat(40),
      useBy: anyUse,
      arrivals: fc.array(anyArrival, { maxLength: 2 }),
      demands: fc.array(anyDemand(8, 3), { maxLength: 3 }),
    })
    .filter(({ onHand, useBy }) => useBy.reduce((sum, { quantity }) => sum + quantity, 0) <= onHand);
  type Shelf = typeof anyShelf extends fc.Arbitrary<infer T> ? T : never;

  const stockOf = ({ arrivals, useBy, ...shelf }: Shelf): StockOnHand => ({
    ...{ ...plain, ...shelf, arrivals },
    useBy: [...useBy, ...arrivals.flatMap(({ useBy: day, quantity }) => (day === null ? [] : [{ day, quantity }]))],
  });

  /** The shelf lot by lot, first in, first out: what is left each day, or null from when it has run short. */
  function lotByLot({ onHand, useBy, arrivals }: Shelf, days: string[], drawnBy: (day: string) => number) {
    const perishing = useBy.reduce((sum, { quantity }) => sum + quantity, 0);
    const lots = [...useBy.map((lot) => ({ ...lot })), { day: '9999', quantity: onHand - perishing }];
    const left = (day: string) => lots.filter((lot) => lot.day >= day).reduce((sum, { quantity }) => sum + quantity, 0);
    let [drawn, isShort] = [0, false];
    return days.map((day) => {
      for (const { quantity, useBy } of arrivals.filter((a) => a.day === day))
        lots.push({ day: useBy ?? '9999', quantity });
      lots.sort((a, b) => (a.day < b.day ? -1 : a.day > b.day ? 1 : 0));
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

  /** The chance of having run short by each day, of all tuples of students. */
  function shortByTuples(shelf: Shelf, days: string[]): number[] {
    const exact = days.map(() => 0);
    for (const { chance, more } of everyOutcome(shelf.demands)) {
      const drawn = (day: string) =>
        shelf.demands.reduce((sum, demand, i) => sum + drawnBy(demand, more[i] ?? 0, day), 0);
      for (const [i, left] of lotByLot(shelf, days, drawn).entries())
        if (left === null) exact[i] = (exact[i] ?? 0) + chance;
    }
    return exact;
  }

  test('is drawn first and then gone: what is left is what stands there lot by lot', () => {
    fc.assert(
      fc.property(anyShelf, (shelf) => {
        const certain = { ...shelf, demands: shelf.demands.map((demand) => ({ ...demand, more: [1] })) };
        const { rows } = stockOutlook(stockOf(certain));
        const days = rows.map(({ day }) => day);
        const left = lotByLot(certain, days, (day) =>
          certain.demands.reduce((sum, demand) => sum + drawnBy(demand, 0, day), 0),
        );
        for (const [i, row] of rows.entries()) {
          if (left[i] === null) expect(rows.slice(0, i + 1).some(({ leftIfBooked }) => leftIfBooked < 0)).toBe(true);
          else
            expect(row).toMatchObject({
              ...{ leftIfBooked: left[i], leftExpected: left[i], leftAtWorst: left[i], shortChance: 0 },
            });
        }
      }),
      { numRuns: 300 },
    );
  });

  test('runs short with the chance of all tuples of students, counted lot by lot', () => {
    fc.assert(
      fc.property(anyShelf, (shelf) => {
        const { rows, atMost } = stockOutlook(stockOf(shelf));
        const exact = shortByTuples(
          shelf,
          rows.map(({ day }) => day),
        );
        expect(atMost).toBe(false);
        for (const [i, { shortChance }] of rows.entries()) expect(shortChance).toBeCloseTo(exact[i] ?? 0, 11);
      }),
      { numRuns: 500 },
    );
  });

  test('runs short with at most the chance that is said, where it would take too long, and on no day with less than before', () => {
    fc.assert(
      fc.property(anyShelf, fc.constantFrom(0, 20, 60), (shelf, mostWork) => {
        const { rows, atMost } = stockOutlook(stockOf(shelf), mostWork);
        const exact = shortByTuples(
          shelf,
          rows.map(({ day }) => day),
        );
        expect(rising(rows.map(({ shortChance }) => shortChance))).toBe(true);
        for (const [i, { shortChance }] of rows.entries()) {
          expect(shortChance).toBeGreaterThanOrEqual((exact[i] ?? 0) - 1e-11);
          if (!atMost) expect(shortChance).toBeCloseTo(exact[i] ?? 0, 6);
        }
      }),
      { numRuns: 500 },
    );
  });

  test('leaves at worst what is left or more with nine chances in ten, lot by lot', () => {
    fc.assert(
      fc.property(anyShelf, (any) => {
        const shelf = { ...any, arrivals: [] }; // lot by lot, nothing is known any more of what ran short before a delivery
        const { rows } = stockOutlook(stockOf(shelf));
        const days = rows.map(({ day }) => day);
        const outcomes = everyOutcome(shelf.demands).map(({ chance, more }) => {
          const drawn = (day: string) =>
            shelf.demands.reduce((sum, demand, i) => sum + drawnBy(demand, more[i] ?? 0, day), 0);
          return { chance, left: lotByLot(shelf, days, drawn) };
        });
        for (const [i, { leftAtWorst, shortChance }] of rows.entries()) {
          const less = (than: number) =>
            outcomes.reduce((sum, one) => sum + ((one.left[i] ?? -1) < than ? one.chance : 0), 0);
          if (leftAtWorst < 0) expect(shortChance).toBeGreaterThan(0.1 - 1e-11);
          else {
            expect(less(leftAtWorst)).toBeLessThanOrEqual(0.1 + 1e-11);
            expect(less(leftAtWorst + 1)).toBeGreaterThan(0.1 - 1e-11);
          }
        }
      }),
      { numRuns: 300 },
    );
  });

  test('says how much will not be used in time, and asks for so much more', () => {
    const course = (day: number): Demand => ({
      ...{ booked: 3, more: [1] },
      draws: [{ perStudent: '10', drawn: 0, sessions: [{ day: dayOf(day), weight: 1 }] }],
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

  test('of two days: what spoils on the second is what is left of both, less what spoilt on the first', () => {
    const draws = [
      { perStudent: '10', drawn: 0, sessions: [dayOf(2), dayOf(5), dayOf(8)].map((day) => ({ day, weight: 1 })) },
    ];
    const stock = { ...plain, onHand: 60, demands: [{ booked: 3, more: [1], draws }] }; // ten on each of the days
    const spoilsOf = (first: number, second: number) =>
      stockOutlook({
        ...stock,
        useBy: [
          { day: dayOf(3), quantity: first },
          { day: dayOf(6), quantity: second },
        ],
      }).spoils;
    // of 25 ten are drawn in time, of 30 ten more
    expect(spoilsOf(25, 30)).toEqual([
      { day: dayOf(3), quantity: 15 },
      { day: dayOf(6), quantity: 20 },
    ]);
    expect(spoilsOf(25, 10)).toEqual([{ day: dayOf(3), quantity: 15 }]);
    expect(spoilsOf(10, 25)).toEqual([{ day: dayOf(6), quantity: 15 }]);
    expect(spoilsOf(5, 15)).toEqual([]);
    expect(spoilsOf(5, 16)).toEqual([{ day: dayOf(6), quantity: 1 }]);
  });

  test('that is past already counts for nothing', () => {
    const stock = { ...plain, onHand: 60, useBy: [{ day: '2026-02-01', quantity: 50 }] };
    const demand = {
      booked: 2,
      more: [0.5, 0.5],
      draws: [{ perStudent: '10', drawn: 0, sessions: [{ day: dayOf(2), weight: 1 }] }],
    };
    const found = stockOutlook({ ...stock, demands: [demand] });
    expect(found.rows).toMatchObject([{ day: dayOf(2), leftIfBooked: -10, shortChance: 1 }]);
    expect(found.spoils).toEqual([{ day: '2026-02-01', quantity: 50 }]);
  });
});
