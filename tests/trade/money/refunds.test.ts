import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type CancellationTerms, furtherRefundMinor, refundByTier } from '../../../src/trade/money/refunds.js';

const tiers = [
  { daysBefore: 7, refundPercent: '50' },
  { daysBefore: 28, refundPercent: '100' },
];
const cancelling = (more: Partial<CancellationTerms>): CancellationTerms => {
  return { paidMinor: 12_001, daysBefore: 30, tiers, ...more };
};

describe('a refund', () => {
  test.each([
    [40, 12_001],
    [28, 12_001],
    [27, 6001], // half of 120.01, half a penny up
    [7, 6001],
    [6, 0],
    [0, 0],
  ])('%i days before the start is %i', (daysBefore, back) => {
    expect(refundByTier(cancelling({ daysBefore })).refundMinor).toBe(back);
  });

  test('once the place is filled again is all less the fee, unless the tier gave more', () => {
    expect(furtherRefundMinor(12_001, 1000)).toBe(11_001);
    expect(furtherRefundMinor(6000, 1000)).toBe(5000);
    expect(furtherRefundMinor(1000, 1000)).toBe(0);
    expect(furtherRefundMinor(0, 1000)).toBe(0);
    expect(furtherRefundMinor(500, 0)).toBe(500);
    expect(() => furtherRefundMinor(-1, 0)).toThrow(/^What was kept/);
    expect(() => furtherRefundMinor(1, 0.5)).toThrow(/^The fee/);
  });

  test('after the start is for the owner to decide', () => {
    expect(refundByTier(cancelling({ daysBefore: -1 }))).toEqual({
      refundMinor: 0,
      keptMinor: 12_001,
      because: 'The course has started, so a refund is for the owner to decide.',
    });
  });

  test('says why', () => {
    expect(refundByTier(cancelling({ daysBefore: 10 })).because).toBe(
      'Cancelled 10 days before the start: 50% is refunded with at least 7 days’ notice.',
    );
    expect(refundByTier(cancelling({ daysBefore: 1 })).because).toBe(
      'Cancelled 1 day before the start: too late for a refund.',
    );
    const [none, always] = ['0', '80'].map((refundPercent) => [{ daysBefore: 0, refundPercent }]);
    expect(refundByTier(cancelling({ daysBefore: 1, tiers: none })).because).toMatch(/too late for a refund\.$/);
    expect(refundByTier(cancelling({ daysBefore: 1, tiers: always })).because).toMatch(
      /80% is refunded until the start\.$/,
    );
    const day = [{ daysBefore: 1, refundPercent: '80' }];
    expect(refundByTier(cancelling({ daysBefore: 1, tiers: day })).because).toMatch(/with at least 1 day’s notice\.$/);
  });

  test('and what is kept add up to what was paid; earlier notice never gets less', () => {
    const place = fc.record({
      paidMinor: fc.integer({ min: 0, max: 1e9 }),
      daysBefore: fc.integer({ min: -5, max: 60 }),
    });
    fc.assert(
      fc.property(place, (each) => {
        const { refundMinor: back, keptMinor } = refundByTier(cancelling(each));
        expect(back + keptMinor).toBe(each.paidMinor);
        expect(Math.min(back, keptMinor)).toBeGreaterThanOrEqual(0);
        const earlier = refundByTier(cancelling({ ...each, daysBefore: each.daysBefore + 1 }));
        expect(earlier.refundMinor).toBeGreaterThanOrEqual(back);
      }),
    );
  });

  test('is refused on tiers or sums that make no sense', () => {
    const twice = [...tiers, { daysBefore: 7, refundPercent: '60' }];
    const backwards = [...tiers, { daysBefore: 60, refundPercent: '20' }];
    expect(() => refundByTier(cancelling({ tiers: twice }))).toThrow(/Keep one/);
    expect(() => refundByTier(cancelling({ tiers: backwards }))).toThrow(/earlier must not get less/);
    expect(() => refundByTier(cancelling({ tiers: [{ daysBefore: 7, refundPercent: '101' }] }))).toThrow(RangeError);
    expect(() => refundByTier(cancelling({ paidMinor: -1 }))).toThrow(/^What was paid/);
    expect(() => refundByTier(cancelling({ daysBefore: 1.5 }))).toThrow(/^The days before/);
  });
});
