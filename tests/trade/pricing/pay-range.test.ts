import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Decimal } from '../../../src/trade/money/money.js';
import { profitTableAt } from '../../../src/trade/pricing/course-price.js';
import { payRange } from '../../../src/trade/pricing/pay-range.js';
import { anyEvenings, EVENINGS } from '../../support/price-case.js';

const courses = (...all: [probability: string, perHour: number][]) =>
  all.map(([probability, perHour]) => ({
    probability: new Decimal(probability),
    perHourMinor: new Decimal(perHour),
  }));

describe('the pay range', () => {
  it('is reached, not exceeded: a tenth of the courses at the lowest pay is the tenth', () => {
    const at = courses(['0.1', 500], ['0.8', 1000], ['0.1', 3000]);
    expect(payRange(at)).toEqual({ meanMinor: '1150', lowMinor: '500', highMinor: '1000' });
    const hair = courses(['0.09', 500], ['0.8', 1000], ['0.11', 3000]);
    expect(payRange(hair)).toMatchObject({ lowMinor: '1000', highMinor: '3000' });
  });

  it('goes by pay, not by number of students, and among courses held only', () => {
    const at = courses(['0.2', 2000], ['0.2', 900], ['0.1', 1000]);
    expect(payRange(at)).toEqual({ meanMinor: '1360', lowMinor: '900', highMinor: '2000' });
  });

  it('does not slip past a tenth for a crumb of division', () => {
    // ten equal parts of a distribution of which 3/7 is held
    const part = new Decimal(3).div(70);
    const at = Array.from({ length: 10 }, (_, i) => ({ probability: part, perHourMinor: new Decimal(i + 1) }));
    expect(payRange(at)).toMatchObject({ lowMinor: '1', highMinor: '9' });
  });

  it('is the range of what the ladder shows, reckoned in floats', () => {
    fc.assert(
      fc.property(anyEvenings, fc.integer({ min: 0, max: 30_000 }), (inputs, gross) => {
        const { ladder, payPerHour } = profitTableAt(inputs, String(gross));
        const held = ladder
          .filter((rung) => rung.held)
          .map((rung) => ({ p: Number(rung.probability), pay: Number(rung.ownerPayPerHourMinor) }));
        const all = held.reduce((sum, { p }) => sum + p, 0);
        const upTo = (pay: string) =>
          held.filter((h) => h.pay <= Number(pay) + 1e-9).reduce((s, h) => s + h.p, 0) / all;
        const below = (pay: string) =>
          held.filter((h) => h.pay < Number(pay) - 1e-9).reduce((s, h) => s + h.p, 0) / all;
        const mean = held.reduce((sum, { p, pay }) => sum + p * pay, 0) / all;
        expect(Number(payPerHour.meanMinor)).toBeCloseTo(mean, 6);
        for (const [pay, part] of [
          [payPerHour.lowMinor, 0.1],
          [payPerHour.highMinor, 0.9],
        ] as const) {
          expect(upTo(pay)).toBeGreaterThanOrEqual(part - 1e-9);
          expect(below(pay)).toBeLessThan(part + 1e-9);
        }
      }),
      { numRuns: 100 },
    );
  });

  it('rises with the price', () => {
    const [low, high] = [profitTableAt(EVENINGS, '10000').payPerHour, profitTableAt(EVENINGS, '12000').payPerHour];
    expect(Number(high.meanMinor)).toBeGreaterThan(Number(low.meanMinor));
    expect(Number(high.lowMinor)).toBeGreaterThan(Number(low.lowMinor));
  });
});
