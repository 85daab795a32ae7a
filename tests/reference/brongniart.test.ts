import { describe, expect, test } from 'vitest';
import {
  brongniartDryGramsPerLitre,
  millilitresFromDryGrams,
  waterToReachMillilitres,
} from '../../src/trade/materials/glaze.js';
import { Decimal } from '../../src/trade/money/money.js';

// W = G (L - 1000) / (G - 1): A. Brongniart, Traité des Arts Céramiques vol. 1, 1854, p. 249, as quoted from Harrison et
// al., Handbook for Australian Potters, https://scribd.com/doc/187727916; the same form at
// https://marshallcolman.blog/2014/10/14/. Mark: read, in both.

const dry = (litreWeight: number, density: string) => Number(brongniartDryGramsPerLitre(litreWeight, density));

describe('worked examples', () => {
  test('A: 1500 g per litre at 2.5 hold 833.3 g dry and 666.7 g water', () => {
    // Altmann, Clayart 30 Jan 1998, http://potters.org/subject11877.htm. Mark: read.
    expect(dry(1500, '2.5')).toBeCloseTo(833.333, 3);
    expect(1500 - dry(1500, '2.5')).toBeCloseTo(666.667, 3);
  });

  test('B: 1750 g per litre at 2.5 hold 1250 g dry and 500 g water', () => {
    // Altmann, Clayart 26 Apr 1998, http://www.potters.org/subject13664.htm. Mark: read.
    expect(brongniartDryGramsPerLitre(1750, '2.5')).toBe('1250');
  });

  test('C: 14 kg dry need 11.2 kg of water at 1.5 and 5.6 kg at 1.75, 5.6 kg apart', () => {
    // Same post. Mark: read.
    const litres = (litreWeight: number) => 14_000 / dry(litreWeight, '2.5');
    const water = (litreWeight: number) => litres(litreWeight) * litreWeight - 14_000;
    expect(water(1500)).toBeCloseTo(11_200, 6);
    expect(water(1750)).toBeCloseTo(5600, 6);
    const thick = { litreWeightGrams: 1750, targetLitreWeightGrams: 1500, millilitres: litres(1750) * 1000 };
    expect(Number(waterToReachMillilitres(thick))).toBeCloseTo(5600, 6);
    const thin = { litreWeightGrams: 1500, targetLitreWeightGrams: 1750, millilitres: litres(1500) * 1000 };
    expect(Number(waterToReachMillilitres(thin))).toBeCloseTo(-5600, 6);
  });

  const inTheSample = new Decimal(brongniartDryGramsPerLitre(1300, '2.65')).times(50).div(1000).toNumber();

  test('D: 50 ml that weigh 65 g, at 2.65, hold about 24 g dry', () => {
    // Finkelnburg, Clayart 20 Jan 2004, http://www.potters.org/subject72233.htm. Mark: read; 24.09 derived.
    expect(inTheSample).toBeCloseTo(24.09, 2);
  });

  test('E: and not the 15 g of weight above water, which forgets that solids fill room', () => {
    // The wrong way, http://www.potters.org/subject72185.htm. Mark: read; a negative check.
    expect(Math.abs(inTheSample - 15)).toBeGreaterThan(5);
  });
});

describe('the table at 2.6', () => {
  // Handbook sheet, https://scribd.com/doc/187727916. Mark: read. [weight of 1 ml, dry g per litre, ml holding 100 g].
  // Exact halves are printed downwards, hence the tolerance.
  test.each([
    [1.05, 81, 1231],
    [1.1, 162, 615],
    [1.15, 244, 410],
    [1.2, 325, 308],
    [1.25, 406, 246],
    [1.3, 487, 205],
    [1.35, 569, 176],
    [1.4, 650, 154],
    [1.45, 731, 137],
    [1.5, 812, 123],
    [1.55, 894, 112],
    [1.6, 975, 103],
    [1.65, 1056, 95],
    [1.7, 1137, 88],
  ])('%f: %i g per litre, %i ml hold 100 g', (weight, gramsPerLitre, millilitres) => {
    const exact = brongniartDryGramsPerLitre(weight * 1000, '2.6');
    expect(Math.abs(Number(exact) - gramsPerLitre)).toBeLessThanOrEqual(0.5);
    const perMillilitre = new Decimal(exact).div(1000).toString();
    expect(Math.abs(Number(millilitresFromDryGrams(100, perMillilitre)) - millilitres)).toBeLessThanOrEqual(0.5);
  });
});
