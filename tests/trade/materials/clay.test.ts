import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  clayDrawnGrams,
  clayReclaimedGrams,
  firedMassGrams,
  lengthBeforeMm,
  totalShrinkagePercent,
} from '../../../src/trade/materials/clay.js';

const percent = (most: number) => fc.integer({ min: 0, max: most * 100 }).map((hundredths) => `${hundredths / 100}`);

test('shrinking in two steps is shrinking once by the total', () => {
  fc.assert(
    fc.property(percent(50), percent(50), fc.integer({ min: 1, max: 900 }), (drying, firing, mm) => {
      const bothSteps = lengthBeforeMm(lengthBeforeMm(mm, firing), drying);
      expect(lengthBeforeMm(mm, totalShrinkagePercent(drying, firing)) / bothSteps).toBeCloseTo(1, 12);
    }),
  );
});

test('a course draws for offcuts and remakes, all of it on the day; what comes back is apart', () => {
  const plan = { pieces: 24, wetMassGrams: 450, offcutsPercent: '15', remakesPercent: '10' };
  expect(clayDrawnGrams(plan)).toBe(13_662); // 24 * 450 * 1.15 * 1.10
  expect(clayDrawnGrams({ ...plan, pieces: 0 })).toBe(0);
  expect(clayReclaimedGrams('13662', '20')).toBe(2732); // 2732.4
  expect(clayReclaimedGrams(13_662, '0')).toBe(0);
  expect(() => clayReclaimedGrams('1000', '101')).toThrow(/^Reclaim in percent/);
});

test('fired mass loses water, then what burns away', () => {
  expect(firedMassGrams(500, '20', '0')).toBe(400);
  expect(firedMassGrams(500, '20', '10')).toBe(360);
});

test('refuses shrinkage, mass and counts that clay does not have', () => {
  expect(() => totalShrinkagePercent('51', '6')).toThrow(/^Drying shrinkage/);
  expect(() => totalShrinkagePercent('6', 'much')).toThrow(/^Firing shrinkage/);
  expect(() => lengthBeforeMm(100, '100')).toThrow(/^Shrinkage in percent/);
  expect(() => firedMassGrams(-1, '20', '9')).toThrow(/^The wet mass/);
  const plan = { pieces: 1.5, wetMassGrams: 450, offcutsPercent: '0', remakesPercent: '0' };
  expect(() => clayDrawnGrams(plan)).toThrow(/^The number of pieces/);
});
