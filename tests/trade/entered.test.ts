import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { decimalEntered, quantityEntered } from '../../src/trade/entered.js';

describe('a number as it is entered', () => {
  test.each([
    ['12.5', '12.5'],
    ['12,5', '12.5'],
    [' 0,30 ', '0.3'],
    ['007', '7'],
    ['0.1234567', '0.1234567'],
  ])('%s is %s', (text, read) => expect(decimalEntered(text)).toBe(read));

  test.each(['', '1 234', '1,234.5', '-1', '+1', '1e3', '0x1', 'NaN', '.5', '5.', '½', '١٢'])('%s is refused', (text) =>
    expect(() => decimalEntered(text)).toThrow(/can't be read as a number/),
  );
});

describe('a quantity as it is entered', () => {
  test.each([
    ['12.5 kg', 'g', 12_500],
    ['0,001kg', 'g', 1],
    ['500', 'g', 500],
    ['1.5 L', 'ml', 1500],
    ['3 pieces', 'piece', 3],
  ] as const)('%s of what is counted in %s is %d', (text, unit, read) =>
    expect(quantityEntered(text, unit)).toBe(read),
  );

  test.each([
    ['0.0005 kg', 'g', /isn't whole/],
    ['1.5', 'piece', /whole pieces/],
    ['1 l', 'g', /counted in g or kg/],
    ['5 lb', 'g', /counted in g or kg/],
    ['kg', 'g', /number/],
    ['-5 g', 'g', /number/],
    ['1 2 kg', 'g', /number/],
  ] as const)('%s of what is counted in %s is refused', (text, unit, why) =>
    expect(() => quantityEntered(text, unit)).toThrow(why),
  );

  test('gives every whole gram back that is written in kilograms, with a comma or a point', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 10_000_000 }), fc.constantFrom('.', ','), (grams, mark) => {
        const text = `${Math.floor(grams / 1000)}${mark}${String(grams % 1000).padStart(3, '0')} kg`;
        expect(quantityEntered(text, 'g')).toBe(grams);
      }),
      { seed: 20260310 },
    );
  });
});
