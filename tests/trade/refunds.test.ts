import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Cancelling, refundMinor } from '../../src/trade/refunds.js';

const tiers = [
  { daysBefore: 7, refundPercent: '50' },
  { daysBefore: 28, refundPercent: '100' },
];
const cancelling = (more: Partial<Cancelling>): Cancelling => {
  return { paidMinor: 12_001, daysBefore: 30, tiers, refilled: false, refilledFeeMinor: 1000, ...more };
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
    expect(refundMinor(cancelling({ daysBefore })).refundMinor).toBe(back);
  });

  test('of a place filled again is all less the fee, unless the tier gives more', () => {
    expect(refundMinor(cancelling({ daysBefore: 2, refilled: true })).refundMinor).toBe(11_001);
    expect(refundMinor(cancelling({ daysBefore: 40, refilled: true })).refundMinor).toBe(12_001);
    expect(refundMinor(cancelling({ daysBefore: 2, refilled: true, paidMinor: 500 })).refundMinor).toBe(0);
  });

  test('after the start is for the owner to decide', () => {
    expect(refundMinor(cancelling({ daysBefore: -1, refilled: true }))).toEqual({
      refundMinor: 0,
      keptMinor: 12_001,
      because: 'The course has begun: the owner decides, and gives a reason.',
    });
  });

  test('says why', () => {
    expect(refundMinor(cancelling({ daysBefore: 10 })).because).toBe(
      'Cancelled 10 days before the start: 50 % is refunded from 7 days on.',
    );
    expect(refundMinor(cancelling({ daysBefore: 1 })).because).toBe(
      'Cancelled 1 day before the start: too late for a refund.',
    );
  });

  test('and what is kept add up to what was paid; earlier notice never gets less', () => {
    const place = fc.record({
      paidMinor: fc.integer({ min: 0, max: 1e9 }),
      daysBefore: fc.integer({ min: -5, max: 60 }),
      refilled: fc.boolean(),
      refilledFeeMinor: fc.integer({ min: 0, max: 5000 }),
    });
    fc.assert(
      fc.property(place, (each) => {
        const { refundMinor: back, keptMinor } = refundMinor(cancelling(each));
        expect(back + keptMinor).toBe(each.paidMinor);
        expect(Math.min(back, keptMinor)).toBeGreaterThanOrEqual(0);
        const earlier = refundMinor(cancelling({ ...each, daysBefore: each.daysBefore + 1 }));
        expect(earlier.refundMinor).toBeGreaterThanOrEqual(back);
      }),
    );
  });

  test('is refused on tiers or sums that make no sense', () => {
    const twice = [...tiers, { daysBefore: 7, refundPercent: '60' }];
    const backwards = [...tiers, { daysBefore: 60, refundPercent: '20' }];
    expect(() => refundMinor(cancelling({ tiers: twice }))).toThrow(/Keep one/);
    expect(() => refundMinor(cancelling({ tiers: backwards }))).toThrow(/earlier must not get less/);
    expect(() => refundMinor(cancelling({ tiers: [{ daysBefore: 7, refundPercent: '101' }] }))).toThrow(RangeError);
    expect(() => refundMinor(cancelling({ paidMinor: -1 }))).toThrow(/^What was paid/);
    expect(() => refundMinor(cancelling({ daysBefore: 1.5 }))).toThrow(/^The days before/);
  });
});
