import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  amountMinor,
  Decimal,
  formatMoney,
  minorDigits,
  roundHalfUp,
  roundKeepingTotal,
  splitExactly,
} from '../../../src/trade/money/money.js';

const sum = (numbers: readonly number[]) => numbers.reduce((a, b) => a + b, 0);
const minor = fc.integer({ min: -1e12, max: 1e12 });

describe('rounding', () => {
  test.each([
    ['166.5', 167],
    ['-166.5', -167],
    ['0.4999999999999999999999', 0],
    ['-0.4', 0],
    ['2.5', 3],
  ])('%s becomes %i', (exact, whole) => {
    expect(Object.is(roundHalfUp(exact), whole)).toBe(true);
  });

  test('refuses what is no amount', () => {
    for (const bad of ['', 'ten', 'NaN', 'Infinity', '1e30']) expect(() => roundHalfUp(bad)).toThrow(RangeError);
  });

  test('happens once to quantity * rate, where floats would miss', () => {
    expect(amountMinor('1.005', '100')).toBe(101); // 1.005 * 100 is 100.49999999999999 in floats
    expect(amountMinor(450, '0.19')).toBe(86);
    expect(() => amountMinor('a bag', '2')).toThrow(RangeError);
  });

  test('of parts together gives the odd unit to the part that is nearest to it', () => {
    const parts = (...exact: string[]) => roundKeepingTotal(exact.map((x) => new Decimal(x))).partsMinor;
    expect(parts('10.2', '0.8')).toEqual([10, 1]);
    expect(parts('-10.2', '-0.8')).toEqual([-10, -1]);
    expect(parts('0.5', '0.5')).toEqual([1, 0]);
  });

  test('of parts together adds up to the rounded sum, each within one unit', () => {
    const exact = fc.integer({ min: -1e9, max: 1e9 }).map((thousandths) => new Decimal(thousandths).div(1000));
    fc.assert(
      fc.property(fc.array(exact, { maxLength: 20 }), (amounts) => {
        const { totalMinor, partsMinor } = roundKeepingTotal(amounts);
        expect(totalMinor).toBe(roundHalfUp(amounts.reduce((a, b) => a.plus(b), new Decimal(0))));
        expect(sum(partsMinor)).toBe(totalMinor);
        for (const [i, x] of amounts.entries())
          expect(
            x
              .minus(partsMinor[i] ?? NaN)
              .abs()
              .lt(1),
          ).toBe(true);
      }),
    );
  });
});

describe('splitting', () => {
  const weights = fc
    .array(fc.integer({ min: 0, max: 2 ** 45 }), { minLength: 1, maxLength: 40 })
    .filter((all) => all.some((weight) => weight > 0));

  test('adds up to the total, and no part is a whole unit off its quota', () => {
    fc.assert(
      fc.property(minor, weights, (total, parts) => {
        const split = splitExactly(total, parts);
        expect(sum(split)).toBe(total);
        const whole = parts.reduce((a, b) => a + BigInt(b), 0n);
        for (const [i, weight] of parts.entries()) {
          const quota = new Decimal(total).times(weight).div(whole.toString());
          expect(
            quota
              .minus(split[i] ?? NaN)
              .abs()
              .lt(1),
          ).toBe(true);
          if (weight === 0) expect(split[i]).toBe(0);
        }
      }),
    );
  });

  test('mirrors a charge for its refund, and never gives less to a heavier part', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 1e9 }), weights, (total, parts) => {
        const split = splitExactly(total, parts);
        expect(splitExactly(-total, parts).map((part) => 0 - part)).toEqual(split.map((part) => 0 + part));
        const ranked = parts.map((weight, i) => ({ weight, part: split[i] ?? 0, i }));
        ranked.sort((a, b) => b.weight - a.weight || a.i - b.i);
        const given = ranked.map(({ part }) => part);
        expect(given).toEqual([...given].sort((a, b) => b - a));
      }),
    );
  });

  test('breaks a tie for the earlier part, where floats would not', () => {
    expect(splitExactly(1914, [6, 48, 36])).toEqual([128, 1021, 765]);
  });

  test('refuses what cannot be split', () => {
    expect(() => splitExactly(10.5, [1])).toThrow(RangeError);
    expect(() => splitExactly(10, [])).toThrow(RangeError);
    expect(() => splitExactly(10, [0, 0])).toThrow(RangeError);
    expect(() => splitExactly(10, [1, -1])).toThrow(RangeError);
    expect(() => splitExactly(10, [0.5])).toThrow(RangeError);
  });
});

describe('writing money', () => {
  test('knows how many digits a currency has (ISO 4217)', () => {
    expect(['GBP', 'EUR', 'JPY', 'KWD'].map(minorDigits)).toEqual([2, 2, 0, 3]);
  });

  test("writes it in the studio's manner", () => {
    expect(formatMoney(1250, 'GBP', 'en-GB')).toBe('£12.50');
    expect(formatMoney(-5, 'GBP', 'en-GB')).toBe('−£0.05');
    expect(formatMoney(1250, 'JPY', 'en-GB')).toContain('1,250');
    expect(formatMoney(900_719_925_474_099, 'GBP', 'en-GB')).toBe('£9,007,199,254,740.99');
    expect(() => formatMoney(1, 'pounds', 'en-GB')).toThrow(RangeError);
  });
});
