import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { comparePrices } from '../../../src/trade/pricing/compare-prices.js';
import {
  cheapestChanges,
  coursePrice,
  type PriceInputs,
  sensitivities,
} from '../../../src/trade/pricing/course-price.js';
import { surplusByHour } from '../../../src/trade/pricing/input-changes.js';
import { leversOf } from '../../../src/trade/pricing/levers.js';
import { anyEvenings, EVENINGS } from '../../support/price-case.js';

/** 8.00 for each of seven hours of teaching, and for an evening of two and a half. */
const COURSE: PriceInputs = { ...EVENINGS, ...surplusByHour(800, '7') };
const EVENING: PriceInputs = { ...EVENINGS, ...surplusByHour(800, '2.5') };

describe('a surplus by the hour of teaching', () => {
  it('asks of one evening its part of what it asks of three', () => {
    expect([COURSE.targetSurplusMinor, EVENING.targetSurplusMinor]).toEqual([5600, 2000]);
    expect(surplusByHour(799, '0.333333').targetSurplusMinor).toBe(266); // 266.33
  });

  it('is what the price leaves', () => {
    const { surplusPriceMinor } = coursePrice(EVENING);
    expect(surplusPriceMinor).toBe(coursePrice({ ...EVENINGS, targetSurplusMinor: 2000 }).surplusPriceMinor);
  });

  it('moves by the hour where a price must come down, and is never asked below nothing', () => {
    // a price at which the evening leaves 12.00: 4.80 an hour, in steps of 0.10
    const inputs = { ...EVENING, payFloorPerHourMinor: 0, priceStepMinor: 1 };
    const at = coursePrice({ ...inputs, ...surplusByHour(480, '2.5') }).fairPriceMinor;
    expect(cheapestChanges(inputs, at).find(({ key }) => key === 'surplus')).toMatchObject({
      from: '800',
      to: '480',
      step: '10',
    });
    const lever = leversOf(EVENING).find(({ key }) => key === 'surplus');
    expect(lever?.set(lever.limit)).toMatchObject({ targetSurplusMinor: 0, surplusPerHour: { rateMinor: 0 } });
  });

  it('is one of the things that a price hangs on: a tenth more of the rate, or of the sum', () => {
    const sure = { ...EVENINGS, payFloorPerHourMinor: 0, vatPercent: '0', cardPercent: '0' };
    const delta = (inputs: PriceInputs) => sensitivities(inputs).find(({ key }) => key === 'surplus')?.deltaMinor;
    const tenth = (more: number) => {
      const [before, after] = [6000, 6000 + more].map((targetSurplusMinor) =>
        Number(coursePrice({ ...sure, targetSurplusMinor }).surplusPriceMinor),
      ) as [number, number];
      return after - before;
    };
    expect(Number(delta({ ...sure, targetSurplusMinor: 6000 }))).toBeCloseTo(tenth(600), 9);
    expect(Number(delta({ ...sure, ...surplusByHour(800, '7.5') }))).toBeCloseTo(tenth(600), 9);
    expect(delta({ ...sure, targetSurplusMinor: 0 })).toBeUndefined();
  });

  it('is compared with a price saved before it was asked by the hour: the sum counts, not how it came about', () => {
    fc.assert(
      fc.property(anyEvenings, (inputs) => {
        const hourly = { ...inputs, surplusPerHour: { rateMinor: inputs.targetSurplusMinor, teachingHours: '1' } };
        expect(comparePrices(inputs, hourly).rows).toEqual([]);
      }),
      { numRuns: 20 },
    );
    const { rows } = comparePrices({ ...EVENINGS, targetSurplusMinor: 6000 }, COURSE);
    expect(rows.map(({ key }) => key)).toContain('wishes');
  });
});
