import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { includedOfBill, includeVisit } from '../../../src/trade/money/membership-use.js';

const session = (minutes: number, month = '2026-03-01', id = `${month} ${minutes}`) => ({ id, month, minutes });
const left = (minutes: number, month = '2026-03-01') => new Map([[month, minutes]]);
const included = (...of: Parameters<typeof includeVisit>) =>
  includeVisit(...of).map(({ includedMinutes, includedMinor }) => [includedMinutes, includedMinor]);

// Worked by hand: a visit of three hours at £12.
describe('a visit is included', () => {
  test('whole, while as many minutes are left', () => {
    expect(included([session(180)], left(600), 1200)).toEqual([[180, 1200]]);
    expect(included([session(180)], left(180), 1200)).toEqual([[180, 1200]]);
  });
  test('in part where fewer are left: of 1200, 120 of 180 minutes are beyond, which is 800', () => {
    expect(included([session(180)], left(60), 1200)).toEqual([[60, 400]]);
    expect(included([session(180)], left(1), 1000)).toEqual([[1, 6]]); // beyond: 1000 × 179 / 180 = 994.44…
  });
  test('not at all without minutes, or in another month', () => {
    expect(included([session(180)], left(0), 1200)).toEqual([]);
    expect(included([session(180)], left(600, '2026-04-01'), 1200)).toEqual([]);
  });
  test('in each month by itself, the sums adding up', () => {
    const months = new Map([
      ['2026-03-01', 120],
      ['2026-04-01', 30],
    ]);
    // of 300 minutes 150 are beyond: half of 1001 is 500.5, so 501 is paid and 500 included, by 120 to 30
    expect(included([session(120), session(180, '2026-04-01')], months, 1001)).toEqual([
      [120, 400],
      [30, 100],
    ]);
  });
});

test('a bill is included by its part, and what is beyond is rounded once: 1000 by 7 of 9 litres', () => {
  expect(includedOfBill(1000, 7n, 9n)).toBe(778); // beyond: 222.2…
  expect(includedOfBill(1000, 9n, 9n)).toBe(1000);
  expect(includedOfBill(1000, 0n, 9n)).toBe(0);
});

test('whatever is left, no more is included than there is, and what is paid and what is included add up', () => {
  const sessions = fc.array(
    fc.record({ minutes: fc.integer({ min: 1, max: 600 }), month: fc.constantFrom('2026-03-01', '2026-04-01') }),
    { minLength: 1, maxLength: 6 },
  );
  fc.assert(
    fc.property(
      sessions,
      fc.integer({ min: 0, max: 1200 }),
      fc.integer({ min: 0, max: 1200 }),
      fc.integer({ min: 0, max: 100_000 }),
      (benches, march, april, priceMinor) => {
        const months = new Map([
          ['2026-03-01', march],
          ['2026-04-01', april],
        ]);
        const rows = includeVisit(
          benches.map((bench, i) => ({ ...bench, id: `${i}` })),
          months,
          priceMinor,
        );
        for (const [month, most] of months) {
          const used = rows.filter((row) => row.month === month).reduce((sum, row) => sum + row.includedMinutes, 0);
          const wanted = benches.filter((b) => b.month === month).reduce((sum, { minutes }) => sum + minutes, 0);
          expect(used).toBe(Math.min(most, wanted));
        }
        const minor = rows.reduce((sum, row) => sum + row.includedMinor, 0);
        const all = benches.reduce((sum, { minutes }) => sum + minutes, 0);
        const used = rows.reduce((sum, row) => sum + row.includedMinutes, 0);
        expect(Math.abs(minor - (priceMinor * used) / all)).toBeLessThanOrEqual(0.5 + 1e-6);
        if (used === all) expect(minor).toBe(priceMinor);
        for (const row of rows) expect(row.includedMinor).toBeGreaterThanOrEqual(0);
      },
    ),
  );
});
