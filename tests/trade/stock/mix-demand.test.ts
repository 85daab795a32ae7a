import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { drawsToMix, partDraw } from '../../../src/trade/stock/mix-demand.js';
import { anyDemand, dayOf, drawnBy, everyOutcome } from '../../support/demands.js';

const sessions = [{ day: dayOf(3), weight: 1 }];
const course = (booked: number, openPlaces: number) => ({
  booked,
  more: Array.from({ length: openPlaces + 1 }, () => 1 / (openPlaces + 1)),
  draws: [{ perStudent: '10', drawn: 0, sessions }],
});

describe('what must be mixed', () => {
  test('is what the stock leaves open, of those who draw last', () => {
    const [first, second] = drawsToMix([course(2, 1), course(3, 0)], 45);
    expect(first).toEqual([]); // 30 with its open place taken
    expect(second).toEqual([{ perStudent: '10', drawn: 15, sessions }]);
    expect(drawsToMix([course(2, 1), course(3, 0)], 60)).toEqual([[], []]);
  });

  test('is never less than all draw beyond the stock, whoever comes, and nothing where the stock does for everybody', () => {
    const some = fc.array(anyDemand(8, 2), { minLength: 1, maxLength: 3 });
    fc.assert(
      fc.property(some, fc.nat(120), (demands, inStock) => {
        const toMix = demands.map((demand, i) => ({ ...demand, draws: drawsToMix(demands, inStock)[i] ?? [] }));
        const drawn = (of: typeof demands, more: number[], day: string) =>
          of.reduce((sum, demand, i) => sum + drawnBy(demand, more[i] ?? 0, day), 0);
        const full = demands.map(({ more }) => more.length - 1);
        for (const { more } of everyOutcome(demands))
          for (let day = 1; day < 10; day++)
            expect(drawn(toMix, more, dayOf(day))).toBeGreaterThanOrEqual(drawn(demands, more, dayOf(day)) - inStock);
        if (drawn(demands, full, dayOf(9)) <= inStock)
          expect(toMix.every(({ draws }) => draws.length === 0)).toBe(true);
        else expect(drawn(toMix, full, dayOf(9))).toBe(drawn(demands, full, dayOf(9)) - inStock);
      }),
    );
  });

  test('comes to its share of a part; of what was mixed no more than that is there already', () => {
    expect(partDraw({ perStudent: '10', drawn: 15, sessions }, '0.3')).toEqual({
      ...{ perStudent: '3', drawn: 4, sessions },
    });
  });

  test('refuses a stock that cannot be', () => {
    expect(() => drawsToMix([], -1)).toThrow(/^What is in stock/);
  });
});
