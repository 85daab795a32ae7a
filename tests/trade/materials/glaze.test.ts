import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  brongniartDryGramsPerLitre,
  glazeDryGrams,
  millilitresFromDryGrams,
  waterToReachMillilitres,
} from '../../../src/trade/materials/glaze.js';

test('dry glaze is area * coating * waste, exactly', () => {
  expect(glazeDryGrams({ areaDm2: 5.2, gramsPerDm2: '4.5', wastePercent: '10' })).toBe('25.74');
  expect(glazeDryGrams({ areaDm2: 0, gramsPerDm2: '4.5', wastePercent: '10' })).toBe('0');
});

test('water that reaches a target leaves the dry matter as it was', () => {
  const weight = fc.integer({ min: 1100, max: 2400 });
  fc.assert(
    fc.property(weight, weight, fc.integer({ min: 1, max: 50_000 }), (from, to, millilitres) => {
      const water = Number(
        waterToReachMillilitres({ millilitres, litreWeightGrams: from, targetLitreWeightGrams: to }),
      );
      const before = (Number(brongniartDryGramsPerLitre(from, '2.5')) * millilitres) / 1000;
      const after = (Number(brongniartDryGramsPerLitre(to, '2.5')) * (millilitres + water)) / 1000;
      expect(after / before).toBeCloseTo(1, 9);
    }),
  );
});

test('water itself holds nothing dry, and solids alone are no slurry', () => {
  expect(brongniartDryGramsPerLitre(1000, '2.5')).toBe('0');
  expect(() => brongniartDryGramsPerLitre(2500, '2.5')).toThrow(/Weigh it again/);
  expect(() => brongniartDryGramsPerLitre(999, '2.5')).toThrow(/^The weight of a litre/);
  expect(() => brongniartDryGramsPerLitre(1500, '1')).toThrow(/density/);
});

test('refuses a target as light as water', () => {
  const slurry = { millilitres: 1000, litreWeightGrams: 1500, targetLitreWeightGrams: 1000 };
  expect(() => waterToReachMillilitres(slurry)).toThrow(/Aim higher/);
});

test('a jar is measured by its own density', () => {
  expect(millilitresFromDryGrams('130', '0.65')).toBe('200');
  expect(() => millilitresFromDryGrams(10, '0')).toThrow(/^Dry grams per millilitre/);
});
