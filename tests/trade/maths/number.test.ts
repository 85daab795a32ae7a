import { expect, test } from 'vitest';
import { Decimal, decimalIn, wholeIn } from '../../../src/trade/maths/number.js';

test('reads plain decimals, and numbers as they print', () => {
  expect(decimalIn('12.50', 'X', 0, 20).toString()).toBe('12.5');
  expect(decimalIn(0.1, 'X', 0, 1).toString()).toBe('0.1');
  expect(decimalIn(' .5 ', 'X', 0, 1).toString()).toBe('0.5');
  expect(decimalIn(1e-7, 'X', 0, 1).toString()).toBe('0.0000001');
});

test.each(['', ' ', 'a lot', '0x10', 'Infinity', 'NaN', '1,5', '1e999', '--1'])('refuses %j, and says what', (bad) => {
  expect(() => decimalIn(bad, 'Waste in percent', 0, 100)).toThrow(/^Waste in percent must be a number/);
});

test('refuses what lies outside, and says what would do', () => {
  expect(() => decimalIn('100.1', 'Waste in percent', 0, 100)).toThrow('Waste in percent must be between 0 and 100.');
  expect(() => wholeIn(1.5, 'The number of pieces', 0, 9)).toThrow(
    'The number of pieces must be a whole number between 0 and 9.',
  );
  expect(() => wholeIn(Number.NaN, 'The number of pieces', 0, 9)).toThrow(RangeError);
  expect(wholeIn(9, 'The number of pieces', 0, 9)).toBe(9);
});

test('writes no exponents, which a form or a database would not take', () => {
  expect(new Decimal('0.000000000001').toString()).toBe('0.000000000001');
  expect(new Decimal('1e25').toString()).toBe('10000000000000000000000000');
});
