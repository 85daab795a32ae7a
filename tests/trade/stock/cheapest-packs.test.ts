import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { cheapestPacks, type Pack } from '../../../src/trade/stock/cheapest-packs.js';

const costOf = (bought: readonly { priceMinor: number; packs: number }[]) =>
  bought.reduce((sum, { priceMinor, packs }) => sum + priceMinor * packs, 0);
const heldBy = (bought: readonly { quantity: number; packs: number }[]) =>
  bought.reduce((sum, { quantity, packs }) => sum + quantity * packs, 0);

/** By trying all: nobody needs more of a size than would hold all by itself. */
function cheapestByTrying(need: number, [first, ...others]: readonly Pack[]): number {
  if (need <= 0) return 0;
  if (first === undefined) return Number.POSITIVE_INFINITY;
  const most = Math.ceil(need / first.quantity);
  return Math.min(
    ...Array.from(
      { length: most + 1 },
      (_, n) => n * first.priceMinor + cheapestByTrying(need - n * first.quantity, others),
    ),
  );
}

describe('the cheapest packs', () => {
  const bags = [
    { quantity: 12_500, priceMinor: 1850 },
    { quantity: 25_000, priceMinor: 3300 },
  ];

  test('are those that a person would choose', () => {
    expect(cheapestPacks(30_000, bags)).toEqual([
      { ...bags[0], packs: 1 },
      { ...bags[1], packs: 1 },
    ]);
    expect(cheapestPacks(50_001, bags)).toMatchObject([{ packs: 1 }, { packs: 2 }]);
    // one large pack is cheaper than the two small ones that would do
    expect(cheapestPacks(13_000, bags)).toEqual([{ ...bags[1], packs: 1 }]);
  });

  test('are none where nothing is needed or nothing is sold', () => {
    expect([cheapestPacks(0, bags), cheapestPacks(5, [])]).toEqual([[], []]);
  });

  test('hold what is needed and cost as little as by trying all', () => {
    const pack = fc.record({ quantity: fc.integer({ min: 1, max: 12 }), priceMinor: fc.integer({ min: 0, max: 40 }) });
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 40 }), fc.array(pack, { minLength: 1, maxLength: 3 }), (need, sizes) => {
        const bought = cheapestPacks(need, sizes);
        expect(heldBy(bought)).toBeGreaterThanOrEqual(need);
        expect(costOf(bought)).toBe(cheapestByTrying(need, sizes));
      }),
    );
  });

  test('are found at once for ten tonnes in packs without a common measure', () => {
    const bought = cheapestPacks(10_000_000, [
      { quantity: 499, priceMinor: 100 },
      { quantity: 12_500, priceMinor: 1850 },
    ]);
    expect(heldBy(bought)).toBeGreaterThanOrEqual(10_000_000);
    expect(costOf(bought)).toBeLessThanOrEqual(800 * 1850);
  });

  test('are refused where a quantity or a price is not whole', () => {
    for (const broken of [
      { quantity: 0, priceMinor: 1 },
      { quantity: 1.5, priceMinor: 1 },
      { quantity: 1, priceMinor: -1 },
    ])
      expect(() => cheapestPacks(1, [broken])).toThrow(RangeError);
    expect(() => cheapestPacks(-1, bags)).toThrow(RangeError);
  });
});
