import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  isVoucherCode,
  newVoucherCode,
  normaliseVoucherCode,
  voucherCodeInWords,
} from '../../../src/trade/text/voucher-code.js';

const chance = fc.array(fc.integer({ min: 0, max: 16 }), { minLength: 9, maxLength: 9 });
const codeOf = (numbers: readonly number[]) => {
  const rest = [...numbers];
  return newVoucherCode(() => rest.shift() ?? 0);
};
const code = chance.map(codeOf);

test('a code is ten signs that stay apart when they are read aloud or scrawled', () => {
  fc.assert(fc.property(code, (made) => /^[23457ACFHJKMNRTXY]{10}$/.test(made) && isVoucherCode(made)));
});

test('one wrong sign, and two swapped, are always caught', () => {
  const signs = [...'23457ACFHJKMNRTXY'];
  fc.assert(
    fc.property(code, fc.nat(9), fc.nat(9), fc.constantFrom(...signs), (made, i, j, sign) => {
      const wrong = [...made];
      wrong[i] = sign;
      const swapped = [...made];
      [swapped[i], swapped[j]] = [made.charAt(j), made.charAt(i)];
      for (const other of [wrong.join(''), swapped.join('')]) expect(isVoucherCode(other)).toBe(other === made);
    }),
  );
});

test('a code is read back as it is printed, in small letters and with look-alikes', () => {
  fc.assert(fc.property(code, (made) => normaliseVoucherCode(voucherCodeInWords(made).toLowerCase()) === made));
  expect(voucherCodeInWords(codeOf([0, 1, 2, 3, 4, 5, 6, 7, 8]))).toMatch(/^234 57AC FH.$/);
  expect(normaliseVoucherCode('z5-we')).toBe('25M3');
});

test('nine signs are by chance, and no code of a piece is one of a voucher', () => {
  fc.assert(fc.property(chance, chance, (a, b) => (codeOf(a) === codeOf(b)) === (a.join() === b.join())));
  expect(isVoucherCode('2222222222'.slice(0, 8))).toBe(false);
  expect(() => newVoucherCode(() => 17)).toThrow(RangeError);
});
