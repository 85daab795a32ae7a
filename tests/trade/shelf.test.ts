import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Demand } from '../../src/trade/demand.js';
import { type Stock, stockOutlook } from '../../src/trade/outlook.js';
import { anyDay, anyDemand, dayOf, drawnBy, everyOutcome, plain, rising } from '../support/demands.js';

describe('what is of no use after a day', () => {
  // whole units for each student and day, so that no rounding makes a larger course draw less of a day
  const wholeDemand = anyDemand(0, 3).chain((demand) =>
    fc.record({ each: fc.integer({ min: 0, max: 3 }) }).map(({ each }) => {
      const draws = demand.draws.map(({ sessions }) => {
        const whole = sessions.reduce((sum, { weight }) => sum + weight, 0);
        return { sessions, perStudent: String(each * whole), drawn: 0 };
      });
      return { ...demand, draws };
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
