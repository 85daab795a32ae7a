import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  batchCost,
  type MixMaterial,
  type MixRecipe,
  partsPerUnit,
  weighOut,
} from '../../../src/trade/materials/mix.js';
import { validateRecipe } from '../../../src/trade/materials/mix-validation.js';

const POWDER: MixMaterial = { unit: 'g', waterPercent: null, dryGramsPerMl: null };
const CLAY: MixMaterial = { unit: 'g', waterPercent: '20', dryGramsPerMl: null };
const SLURRY: MixMaterial = { unit: 'ml', waterPercent: null, dryGramsPerMl: '0.8' };
const recipe = (changes: Partial<MixRecipe> = {}): MixRecipe => ({
  weights: 'dry',
  parts: [
    { ...POWDER, share: '50' },
    { ...POWDER, share: '50' },
  ],
  product: POWDER,
  litreGrams: null,
  solidsDensity: null,
  ...changes,
});

const stuff = fc.constantFrom(POWDER, CLAY, SLURRY);
const share = fc.integer({ min: 1, max: 500_000 }).map((n) => (n / 100).toFixed(2));
const recipes = fc.record({
  weights: fc.constantFrom('dry' as const, 'wet' as const),
  parts: fc.array(
    fc.record({ kind: stuff, share }).map(({ kind, share }) => ({ ...kind, share })),
    { minLength: 1, maxLength: 12 },
  ),
  product: stuff,
  litreGrams: fc.constant(null),
  solidsDensity: fc.constantFrom(null, '2.5', '2.65'),
});

describe('what a unit takes of each part', () => {
  test('two jars half and half are half a ml of each, and damp clay of dry clay more than its weight', () => {
    const jars = [1, 2].map(() => ({ ...SLURRY, share: '1' }));
    expect(partsPerUnit(recipe({ weights: 'wet', parts: jars, product: SLURRY }))).toEqual(['0.5', '0.5']);
    const body = [{ ...CLAY, share: '100' }];
    expect(partsPerUnit(recipe({ parts: body, product: POWDER }))).toEqual(['1.25']);
    expect(partsPerUnit(recipe({ parts: body, product: CLAY }))).toEqual(['1']);
  });

  test('is what a batch weighs out, but for the rounding of its scale', () => {
    fc.assert(
      fc.property(recipes, (any) => {
        fc.pre(any.parts.every((part) => Number(part.share) > 100));
        const { parts, yieldQuantity } = weighOut(any, 2_000_000);
        for (const [i, perUnit] of partsPerUnit(any).entries()) {
          const { quantity = 0 } = parts[i] ?? {};
          expect(Math.abs(Number(perUnit) * yieldQuantity - quantity)).toBeLessThan(2 + (3 * quantity) / yieldQuantity);
        }
      }),
    );
  });
});

describe('weighing out', () => {
  test('gives the odd gram to the first of two equal parts', () => {
    expect(weighOut(recipe(), 1001).parts.map((part) => part.grams)).toEqual([501, 500]);
  });

  test('adds up to the batch, whatever the shares', () => {
    fc.assert(
      fc.property(recipes, fc.integer({ min: 500_000, max: 5_000_000 }), (any, grams) => {
        const tiny = any.parts.some(
          (part) => Number(part.share) < any.parts.reduce((s, p) => s + Number(p.share), 0) / grams,
        );
        fc.pre(!tiny);
        expect(weighOut(any, grams).parts.reduce((sum, part) => sum + part.grams, 0)).toBe(grams);
      }),
    );
  });

  test('makes twice the mix of twice the batch, to the rounding of a scale', () => {
    fc.assert(
      fc.property(recipes, fc.integer({ min: 500_000, max: 2_000_000 }), (any, grams) => {
        fc.pre(any.parts.every((part) => Number(part.share) > 100));
        const [one, two] = [weighOut(any, grams), weighOut(any, 2 * grams)];
        for (const [i, part] of one.parts.entries())
          expect(Math.abs((two.parts[i]?.grams ?? 0) - 2 * part.grams)).toBeLessThanOrEqual(2);
        expect(Math.abs(two.yieldQuantity - 2 * one.yieldQuantity)).toBeLessThanOrEqual(2 * any.parts.length + 2);
      }),
    );
  });

  test('keeps the dry matter: as much is in the product as was in its parts', () => {
    // common practice: a millilitre with 0.8 g of dry matter, so that a litre holds 800 g
    const twice = recipe({
      weights: 'wet',
      product: SLURRY,
      parts: [
        { ...SLURRY, share: '1' },
        { ...SLURRY, share: '1' },
      ],
    });
    const batch = weighOut(twice, 3000);
    expect(batch.addWaterMl).toBe(0);
    expect(batch.yieldQuantity).toBe(batch.parts.reduce((sum, part) => sum + part.quantity, 0));
    expect(Number(batch.dryGrams)).toBeCloseTo(batch.yieldQuantity * 0.8, -1);
  });

  test('weighs more of what is damp, where the recipe speaks of dry matter', () => {
    const slip = recipe({
      parts: [
        { ...CLAY, share: '80' },
        { ...POWDER, share: '20' },
      ],
    });
    expect(weighOut(slip, 1000).parts.map((part) => part.weighGrams)).toEqual([1000, 200]);
    expect(weighOut({ ...slip, weights: 'wet' }, 1000)).toMatchObject({
      parts: [{ weighGrams: 800 }, { weighGrams: 200 }],
      dryGrams: '840',
      yieldQuantity: 840,
    });
  });

  test('says how much clear water to take off where the parts bring too much', () => {
    const wet = recipe({
      weights: 'wet',
      product: { ...SLURRY, dryGramsPerMl: '1' },
      parts: [{ ...SLURRY, share: '1' }],
    });
    const { addWaterMl, tooWetMl, parts } = weighOut(wet, 1492);
    expect(parts[0]?.quantity).toBe(1000); // 1000 ml hold 800 g in 692 g of water; 800 ml of the thicker would hold 492
    expect([addWaterMl, tooWetMl]).toEqual([0, 200]);
  });

  test('leaves a powder without water and without a density', () => {
    expect(weighOut(recipe(), 1000)).toMatchObject({
      addWaterMl: 0,
      tooWetMl: 0,
      litreGrams: null,
      yieldQuantity: 1000,
    });
  });

  test('refuses a part that a scale in grams does not show', () => {
    const traces = recipe({
      parts: [
        { ...POWDER, share: '1000' },
        { ...POWDER, share: '0.5' },
      ],
    });
    expect(() => weighOut(traces, 100)).toThrow(/Make more at once/);
    expect(weighOut(traces, 10_000).parts.map((part) => part.grams)).toEqual([9995, 5]);
  });
});

test('refuses what would come to more than ten tonnes', () => {
  const thin = { ...SLURRY, dryGramsPerMl: '0.0001' };
  const of = (changes: Partial<MixRecipe>) => () => weighOut(recipe(changes), 1_000_000);
  expect(of({ parts: [{ ...thin, share: '1' }] })).toThrow(/ten tonnes/);
  expect(of({ product: thin })).toThrow(/ten tonnes/);
  expect(weighOut(recipe({ product: thin }), 100)).toMatchObject({ yieldQuantity: 1_000_000, litreGrams: null });
});

describe('the cost of a batch', () => {
  const { parts } = weighOut(recipe({ parts: [1, 1, 1].map(() => ({ ...POWDER, share: '1' })) }), 100);

  test('adds up from its parts', () => {
    const { totalMinor, partsMinor } = batchCost(parts, ['0.333', '0.333', '0.333']);
    expect(totalMinor).toBe(33);
    expect(partsMinor.reduce<number>((sum, part) => sum + (part ?? 0), 0)).toBe(33);
  });

  test('is not known where a part has no price', () => {
    expect(batchCost(parts, ['1', null, '1'])).toEqual({ totalMinor: null, partsMinor: [34, null, 33] });
  });
});

describe('what can’t be mixed', () => {
  const part = (id: string, share: string, kind = POWDER) => ({ ...kind, id, share });
  const given = (changes: object) => ({
    ...{ inPercent: false, litreGrams: null, solidsDensity: null, product: { ...POWDER, id: 'mix' } },
    parts: [part('a', '60'), part('b', '40')],
    ...changes,
  });

  test('is nothing, of a sound recipe', () => {
    expect(validateRecipe(given({ inPercent: true }))).toEqual([]);
    expect(validateRecipe(given({ litreGrams: 1500 }))).toEqual([]);
  });

  test.each([
    ['no parts', { parts: [] }, 'parts', /must have at least one material/],
    ['percent that are none', { inPercent: true, parts: [part('a', '60'), part('b', '42')] }, 'parts', /102%/],
    ['a part twice', { parts: [part('a', '1'), part('a', '2')] }, 'parts/1/materialId', /add the two shares together/],
    ['itself', { parts: [part('mix', '1')] }, 'parts/0/materialId', /mixed itself/],
    ['pieces', { parts: [part('a', '1', { ...POWDER, unit: 'piece' })] }, 'parts/0/materialId', /pieces/],
    [
      'ml of nobody knows what',
      { parts: [part('a', '1', { ...SLURRY, dryGramsPerMl: null })] },
      'parts/0/materialId',
      /dry 100 ml/,
    ],
    ['a product in such ml', { product: { ...SLURRY, dryGramsPerMl: null, id: 'mix' } }, 'productId', /dry 100 ml/],
    [
      'a ml as heavy as stone',
      { parts: [part('a', '1', { ...SLURRY, dryGramsPerMl: '2.6' })] },
      'parts/0/materialId',
      /than fits in one/,
    ],
    ['two words on the water', { litreGrams: 1500, product: { ...SLURRY, id: 'mix' } }, 'litreGrams', /left out/],
    ['a litre as heavy as stone', { litreGrams: 2600 }, 'litreGrams', /aim for less/],
  ])('is %s', (_, changes, at, detail) => {
    expect(validateRecipe(given(changes))).toContainEqual({ at, detail: expect.stringMatching(detail) });
  });
});
