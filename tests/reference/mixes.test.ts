import { describe, expect, test } from 'vitest';
import { type MixMaterial, weighOut } from '../../src/trade/materials/mix.js';

// Water for a batch, by W = G (L - 1000) / (G - 1): A. Brongniart, Traité des Arts Céramiques vol. 1, 1854, p. 249, as quoted from
// Harrison et al., Handbook for Australian Potters, https://scribd.com/doc/187727916.

const POWDER: MixMaterial = { unit: 'g', waterPercent: null, dryGramsPerMl: null };
const dry = (litreGrams: number, solidsDensity: string | null = null) => ({
  ...{ weights: 'dry' as const, parts: [{ ...POWDER, share: '1' }], product: POWDER, litreGrams, solidsDensity },
});

describe('water for a dry batch', () => {
  test('14 kg dry at 2.5 want 11.2 kg of water for 1500 g a litre, and 5.6 kg for 1750', () => {
    // Altmann, Clayart 26 Apr 1998, http://www.potters.org/subject13664.htm. Mark: read.
    expect(weighOut(dry(1500, '2.5'), 14_000).addWaterMl).toBe(11_200);
    expect(weighOut(dry(1750, '2.5'), 14_000).addWaterMl).toBe(5600);
  });

  // Handbook sheet at 2.6, https://scribd.com/doc/187727916. Mark: read. [a litre weighs, dry grams in it, ml that hold 100 g dry].
  test.each([
    [1200, 325, 308],
    [1400, 650, 154],
    [1450, 731, 137],
    [1500, 812, 123],
    [1700, 1137, 88],
  ])('a litre of %d g holds %d g dry, so that 100 g make %d ml of slurry', (litre, dryGrams, ml) => {
    const { addWaterMl } = weighOut(dry(litre), 100_000);
    const litres = (100_000 + addWaterMl) / litre;
    expect(100_000 / litres).toBeGreaterThan(dryGrams - 0.1);
    expect(100_000 / litres).toBeLessThan(dryGrams + 0.6); // exact halves are printed downwards
    expect(Math.abs(litres - ml)).toBeLessThanOrEqual(0.5); // ml of 100 g are litres of 100 kg
  });

  test('a mix of two jars of 1500 g a litre weighs as much', () => {
    // 833.3 g dry in a litre of 1500 g at 2.5: Altmann, Clayart 30 Jan 1998, http://potters.org/subject11877.htm. Mark: read.
    const jar: MixMaterial = { unit: 'ml', waterPercent: null, dryGramsPerMl: '0.8333' };
    const parts = [1, 2].map(() => ({ ...jar, share: '50' }));
    const batch = weighOut({ weights: 'wet', parts, product: jar, litreGrams: null, solidsDensity: '2.5' }, 3000);
    expect(batch).toMatchObject({ litreGrams: 1500, addWaterMl: 0, yieldQuantity: 2000 });
    expect(batch.parts).toMatchObject([{ quantity: 1000 }, { quantity: 1000 }]);
  });
});
