import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { majorUnits } from '../../../src/trade/money/money.js';
import { parseDecimal, parseImportedDecimal, parseMoney, parseQuantity } from '../../../src/trade/text/parse-input.js';

describe('a number as it is entered', () => {
  test.each([
    ['12.5', '12.5'],
    ['12,5', '12.5'],
    [' 0,30 ', '0.3'],
    ['007', '7'],
    ['0.1234567', '0.1234567'],
  ])('%s is %s', (text, read) => expect(parseDecimal(text)).toBe(read));

  test.each(['', '1 234', '1,234.5', '-1', '+1', '1e3', '0x1', 'NaN', '.5', '5.', '½', '١٢'])('%s is refused', (text) =>
    expect(() => parseDecimal(text)).toThrow(/can't be read as a number/),
  );
});

describe('a quantity as it is entered', () => {
  test.each([
    ['12.5 kg', 'g', 12_500],
    ['0,001kg', 'g', 1],
    ['500', 'g', 500],
    ['1.5 L', 'ml', 1500],
    ['3 pieces', 'piece', 3],
  ] as const)('%s of what is counted in %s is %d', (text, unit, read) => expect(parseQuantity(text, unit)).toBe(read));

  test.each([
    ['0.0005 kg', 'g', /isn't whole/],
    ['1.5', 'piece', /whole pieces/],
    ['1 l', 'g', /counted in g or kg/],
    ['5 lb', 'g', /counted in g or kg/],
    ['kg', 'g', /number/],
    ['-5 g', 'g', /number/],
    ['1 2 kg', 'g', /number/],
  ] as const)('%s of what is counted in %s is refused', (text, unit, why) =>
    expect(() => parseQuantity(text, unit)).toThrow(why),
  );

  test('gives every whole gram back that is written in kilograms, with a comma or a point', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 10_000_000 }), fc.constantFrom('.', ','), (grams, mark) => {
        const text = `${Math.floor(grams / 1000)}${mark}${String(grams % 1000).padStart(3, '0')} kg`;
        expect(parseQuantity(text, 'g')).toBe(grams);
      }),
      { seed: 20260310 },
    );
  });
});

describe('an amount of money as it is entered', () => {
  test.each([
    ['12', 'GBP', 1200],
    ['12.5', 'GBP', 1250],
    ['12,50', 'GBP', 1250],
    [' £12.50 ', 'GBP', 1250],
    ['12.50 GBP', 'GBP', 1250],
    ['€ 3', 'EUR', 300],
    ['0,20', 'GBP', 20],
    ['0.500', 'GBP', 50],
    ['12.5000', 'GBP', 1250],
    ['1500', 'JPY', 1500],
    ['12.500', 'KWD', 12_500], // its own forms write three decimals
    ['10000000', 'GBP', 1_000_000_000],
  ] as const)('%s in %s is %d', (text, currency, minor) => expect(parseMoney(text, currency)).toBe(minor));

  test.each([
    ['', 'GBP', 'Write an amount in GBP, such as 12.50.'],
    ['12.500', 'GBP', '"12.500" can be read in two ways. Write 12500 or 12.50.'],
    ['1,234', 'GBP', '"1,234" can be read in two ways. Write 1234 or 1.23.'],
    ['1.234', 'JPY', '"1.234" can be read in two ways. Write 1234.'],
    ['1,234', 'KWD', '"1,234" can be read in two ways. Write 1234 or 1.234.'],
    ['0.125', 'GBP', '"0.125" has more decimals than GBP has. Write it such as 12.50.'],
    ['1234.5', 'JPY', '"1234.5" has more decimals than JPY has. Write it such as 1250.'],
    ['€12', 'GBP', '"€12" is not in the studio\'s currency. Write the amount in GBP, such as 12.50.'],
    ['10000000.01', 'GBP', '"10000000.01" is more than one amount can be: 10000000.00 at most.'],
    ['1234567890', 'GBP', '"1234567890" is more than one amount can be: 10000000.00 at most.'],
  ] as const)('%s in %s is refused: %s', (text, currency, sentence) =>
    expect(() => parseMoney(text, currency)).toThrow(sentence),
  );

  test.each(['12.', '.5', '-1', '+1', '1 234', '1,234.50', '1e3', 'twelve', '12..5', '1'.repeat(5000)])(
    '%s is refused as a number',
    (text) => expect(() => parseMoney(text, 'GBP')).toThrow(/can't be read as a number/),
  );

  test('is refused below the least that is taken', () => {
    expect(() => parseMoney('0', 'GBP', 1)).toThrow('Write an amount of more than zero, such as 12.50.');
    expect(parseMoney('0', 'GBP')).toBe(0);
  });

  const anyMinor = fc.integer({ min: 0, max: 1_000_000_000 });
  const anyCurrency = fc.constantFrom('GBP', 'EUR', 'USD', 'JPY', 'CHF', 'KWD');

  test('gives back every amount as a form or a paper writes it, with the sign and without', () => {
    fc.assert(
      fc.property(anyMinor, anyCurrency, fc.constantFrom('', 'code', 'sign'), (minor, currency, mark) => {
        const plain = majorUnits(minor, currency);
        const sign = new Intl.NumberFormat('en', { style: 'currency', currency, currencyDisplay: 'narrowSymbol' });
        const signed = { '': plain, code: `${plain} ${currency}`, sign: `${sign.formatToParts(0)[0]?.value}${plain}` };
        expect(parseMoney(signed[mark], currency)).toBe(minor);
      }),
      { seed: 20260310 },
    );
  });

  test('never reads a text as two amounts: what it takes, with all separators but the last left out, is the same amount', () => {
    fc.assert(
      fc.property(fc.stringMatching(/^[0-9.,]{1,12}$/), anyCurrency, (text, currency) => {
        let minor: number;
        try {
          minor = parseMoney(text, currency);
        } catch (error) {
          expect(error).toBeInstanceOf(RangeError);
          expect((error as Error).message).toMatch(/Write|at most/);
          return;
        }
        // own reading: one separator at most, decimals after it
        const [whole = '', decimals = '', ...more] = text.split(/[.,]/);
        expect(more).toEqual([]);
        const digits = majorUnits(0, currency).split('.')[1]?.length ?? 0;
        const padded = decimals.padEnd(digits, '0');
        expect(padded.slice(digits)).toMatch(/^0*$/);
        expect(minor).toBe(Number(whole + padded.slice(0, digits)));
      }),
      { seed: 20260310, numRuns: 2000 },
    );
  });
});

test('a decimal that somebody else wrote is refused where it could be two', () => {
  expect(() => parseImportedDecimal('1,234')).toThrow('"1,234" can be read in two ways. Write 1234 or 1.2340.');
  expect(parseImportedDecimal('0,234')).toBe('0.234');
});
