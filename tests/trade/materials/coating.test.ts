import { describe, expect, test } from 'vitest';
import { glazeFor } from '../../../src/trade/materials/coating.js';
import { areaDm2 } from '../../../src/trade/materials/vessel-shapes.js';

const size = { widthMm: 120, depthMm: 88, heightMm: 95 };
const coating = { form: 'mug' as const, size, pieces: 2, gramsPerDm2: '4.5', wastePercent: '10' };

describe('the glaze for some pieces', () => {
  test('is their area inside and out, by the coating, with what is wasted', () => {
    const grams = Number(areaDm2('mug', size, { inside: true, outside: true })) * 2 * 4.5 * 1.1;
    expect(Number(glazeFor(coating, { unit: 'g', dryGramsPerMl: null }))).toBeCloseTo(grams, 6);
    expect(Number(glazeFor(coating, { unit: 'ml', dryGramsPerMl: '0.8' }))).toBeCloseTo(grams / 0.8, 5);
  });

  test('is told in grams where nobody knows how many a ml holds, and refused of a size that cannot be', () => {
    expect(glazeFor(coating, { unit: 'ml', dryGramsPerMl: null })).toBe(
      glazeFor(coating, { unit: 'g', dryGramsPerMl: null }),
    );
    expect(() => glazeFor({ ...coating, size: { ...size, widthMm: 0 } }, { unit: 'g', dryGramsPerMl: null })).toThrow(
      RangeError,
    );
  });
});
