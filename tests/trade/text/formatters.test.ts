import { afterEach, describe, expect, test, vi } from 'vitest';
import { remember } from '../../../src/trade/maths/remember.js';
import { formatMoney, formatMoneyInText } from '../../../src/trade/money/money.js';
import { formatDay } from '../../../src/trade/text/format.js';
import { dateFormat, numberFormat } from '../../../src/trade/text/formatters.js';

afterEach(() => vi.restoreAllMocks());

describe('a formatter', () => {
  test('is made once for a locale and its options, however much is written with it', () => {
    const { DateTimeFormat, NumberFormat } = Intl;
    const dates = vi.spyOn(Intl, 'DateTimeFormat').mockImplementation(function make(...given) {
      return new DateTimeFormat(...given);
    });
    const numbers = vi.spyOn(Intl, 'NumberFormat').mockImplementation(function make(...given) {
      return new NumberFormat(...given);
    });
    for (let day = 10; day < 30; day++) {
      expect(formatDay(`2027-05-${day}`, 'en-IE', { weekday: true })).toMatch(/^\w+day \d\d May 2027$/);
      expect(formatMoney(day * 100, 'EUR', 'en-IE')).toBe(`€${day}.00`);
      expect(formatMoneyInText(day * 100, 'EUR', 'en-IE')).toBe(`€${day}`);
    }
    expect(dates.mock.calls.length).toBeLessThanOrEqual(1);
    expect(numbers.mock.calls.length).toBeLessThanOrEqual(3); // the digits of a euro, sums with pence and without
  });

  test('is another one for another locale or other options', () => {
    expect(numberFormat('en').format(1234.5)).toBe('1,234.5');
    expect(numberFormat('de').format(1234.5)).toBe('1.234,5');
    expect(numberFormat('en', { maximumFractionDigits: 0 }).format(1234.5)).toBe('1,235');
    expect(dateFormat('en-GB', { timeZone: 'UTC' }).format(0)).toBe('01/01/1970');
    expect(dateFormat('en-GB', { timeZone: 'UTC', month: 'long' }).format(0)).toBe('January');
  });

  test('of a locale that there is not is refused each time', () => {
    for (const _ of [1, 2]) expect(() => numberFormat('no such')).toThrow(RangeError);
  });
});

describe('what is remembered', () => {
  test('is made once', () => {
    const keep = remember<number>(10);
    const make = vi.fn(() => 7);
    expect([keep('a', make), keep('a', make), keep('b', make)]).toEqual([7, 7, 7]);
    expect(make).toHaveBeenCalledTimes(2);
  });

  test('has a bound', () => {
    const keep = remember<number>(3);
    const make = vi.fn(() => 1);
    for (const key of 'abcd') keep(key, make);
    keep('d', make);
    expect(make).toHaveBeenCalledTimes(4);
    keep('a', make);
    expect(make).toHaveBeenCalledTimes(5);
  });
});
