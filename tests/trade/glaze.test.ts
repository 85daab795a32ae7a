import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  brongniartDryGramsPerLitre,
  glazeDryGrams,
  millilitresFromDryGrams,
  mixParts,
  waterToReachMillilitres,
} from '../../src/trade/glaze.js';

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

test('the parts of a mix add up to it', () => {
  expect(mixParts(1001, [{ share: 50 }, { share: 50 }])).toEqual([501, 500]);
  fc.assert(
    fc.property(
      fc.integer({ min: 0, max: 1e6 }),
      fc.array(fc.record({ share: fc.integer({ min: 1, max: 1000 }) }), { minLength: 1, maxLength: 12 }),
      (grams, parts) => {
        expect(mixParts(grams, parts).reduce((a, b) => a + b, 0)).toBe(grams);
      },
    ),
  );
  expect(() => mixParts(1000, [])).toThrow(RangeError);
  expect(() => mixParts(1000, [{ share: -1 }, { share: 2 }])).toThrow(/^The share of a part/);
});
