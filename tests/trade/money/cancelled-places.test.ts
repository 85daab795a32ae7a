import fc from 'fast-check';
import { expect, test } from 'vitest';
import { paidByPlace, refundByPlace } from '../../../src/trade/money/cancelled-places.js';

test('what was paid is shared by price, and a refund by what was paid', () => {
  const shares = paidByPlace(10_000, [6000, 12_000], 0);
  expect(shares).toEqual([
    { priceMinor: 6000, paidMinor: 3333 },
    { priceMinor: 12_000, paidMinor: 6667 },
  ]);
  expect(refundByPlace(shares, 5000)).toEqual([
    { priceMinor: 6000, paidMinor: 3333, refundMinor: 1667, keptMinor: 1666 },
    { priceMinor: 12_000, paidMinor: 6667, refundMinor: 3333, keptMinor: 3334 },
  ]);
  expect(paidByPlace(0, [0], 0)).toEqual([{ priceMinor: 0, paidMinor: 0 }]);
});

const money = fc.integer({ min: 1, max: 100_000 });

test('no place has more than it costs, nor those that stay, and all of it adds up', () => {
  fc.assert(
    fc.property(fc.array(money, { minLength: 1, maxLength: 6 }), money, fc.nat(1000), (prices, staying, perMille) => {
      const whole = prices.reduce((sum, price) => sum + price, staying);
      const paid = Math.floor((whole * perMille) / 1000);
      const shares = paidByPlace(paid, prices, staying);
      const leaving = shares.reduce((sum, { paidMinor }) => sum + paidMinor, 0);
      expect(shares.every(({ priceMinor, paidMinor }) => paidMinor >= 0 && paidMinor <= priceMinor)).toBe(true);
      expect(paid - leaving).toBeGreaterThanOrEqual(0);
      expect(paid - leaving).toBeLessThanOrEqual(staying);
      const back = Math.floor(leaving / 3);
      const lines = refundByPlace(shares, back);
      expect(lines.reduce((sum, { refundMinor }) => sum + refundMinor, 0)).toBe(leaving === 0 ? 0 : back);
      expect(
        lines.every(({ paidMinor, refundMinor, keptMinor }) => keptMinor >= 0 && refundMinor + keptMinor === paidMinor),
      ).toBe(true);
    }),
  );
});
