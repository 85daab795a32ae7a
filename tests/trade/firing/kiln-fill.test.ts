import { expect, test } from 'vitest';
import { FIRINGS_ENOUGH, usualFill } from '../../../src/trade/firing/kiln-fill.js';

test('is what the owner assumed until enough firings are known, and says how many are', () => {
  expect(usualFill('55', [])).toMatchObject({ percent: '55', isLearnt: false, firings: 0, meanPercent: null });
  const few = Array.from({ length: FIRINGS_ENOUGH - 1 }, () => '41');
  expect(usualFill('55', few)).toMatchObject({ percent: '55', isLearnt: false, firings: 4, meanPercent: '41' });
  expect(usualFill('55', [...few, '41'])).toMatchObject({ percent: '41', isLearnt: true, firings: 5 });
});

test('is the plain mean, so that what pieces pay of the mean load adds up to what all firings cost', () => {
  const loads = [30, 50, 44, 36, 40, 46];
  const { percent, lowPercent, highPercent } = usualFill('80', loads.map(String));
  expect(percent).toBe('41');
  const paid = loads.reduce((sum, load) => sum + load / Number(percent), 0);
  expect(paid).toBeCloseTo(loads.length, 9);
  // t(0.9, 7 degrees of freedom) = 1.415; squares about the mean 262, and 4.1² for what is thought before: sqrt(278.81 / 7 / 7) * 1.415
  expect(Number(lowPercent)).toBeCloseTo(41 - 3.375, 2);
  expect(Number(highPercent)).toBeCloseTo(41 + 3.375, 2);
});

test('of loads that are alike is not certain, and never above a full kiln', () => {
  const alike = usualFill('55', Array(6).fill('40'));
  expect(Number(alike.highPercent)).toBeGreaterThan(Number(alike.lowPercent));
  expect(usualFill('55', Array(6).fill('130'))).toMatchObject({ percent: '100', highPercent: '100' });
  expect(() => usualFill('101', [])).toThrow(/assumed fill/);
});
