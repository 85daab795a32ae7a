import fc from 'fast-check';
import { expect, test } from 'vitest';
import { piecesInThePrice } from '../../../src/trade/pricing/included-firing.js';

const LITRE = 1_000_000;

test('what still fits whole is in the price, in the order in which it came', () => {
  expect(piecesInThePrice('5', 0, [3 * LITRE, 3 * LITRE, 2 * LITRE])).toEqual([true, false, true]);
  expect(piecesInThePrice('5', 3 * LITRE, [2 * LITRE, 1])).toEqual([true, false]);
  expect(piecesInThePrice('0.5', 0, [LITRE / 2])).toEqual([true]);
  expect(piecesInThePrice('5', 9 * LITRE, [1])).toEqual([false]);
});

test('never more than is included, and nothing is left out that would have fitted', () => {
  const rooms = fc.array(fc.integer({ min: 1, max: 4 * LITRE }), { maxLength: 12 });
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 200 }), fc.nat(9 * LITRE), rooms, (tenths, taken, pieces) => {
      const included = piecesInThePrice(String(tenths / 10), taken, pieces);
      let left = tenths * (LITRE / 10) - taken;
      for (const [i, mm3] of pieces.entries()) {
        expect(included[i]).toBe(mm3 <= left);
        if (included[i]) left -= mm3;
      }
      expect(Math.max(left, 0)).toBe(included.some(Boolean) || left >= 0 ? left : 0);
    }),
  );
});

test('refuses what is no quantity', () => {
  expect(() => piecesInThePrice('-1', 0, [])).toThrow(/litres in the price/);
  expect(() => piecesInThePrice('1', 0, [0.5])).toThrow(/room of a piece/);
});
