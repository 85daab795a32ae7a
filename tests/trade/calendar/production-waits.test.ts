import { describe, expect, test } from 'vitest';
import { hoursInWords, totalMinutes, waitsBetween } from '../../../src/trade/calendar/production-lead-time.js';

// 20 to 1000 °C at 100 °C an hour is 9 h 48 min; ten minutes' hold make 9 h 58 min.
const BISQUE = { name: 'Bisque', segments: [{ ratePerHourC: 100, targetC: 1000, holdMinutes: 10 }], coolingHours: 20 };

describe('what ware waits for', () => {
  test('is drying, then each firing and its cooling', () => {
    const waits = waitsBetween(7, [BISQUE]);
    expect(waits.map(({ what }) => what)).toEqual(['drying', '"Bisque"', 'cooling']);
    expect(totalMinutes(waits)).toBe(7 * 1440 + 598 + 1200);
  });

  test('is nothing where it is dry and goes through no firing', () => {
    expect(waitsBetween(0, [])).toEqual([]);
    expect(totalMinutes([])).toBe(0);
  });

  test('adds up over two firings, and leaves out a kiln that needs no cooling', () => {
    const waits = waitsBetween(0, [BISQUE, { ...BISQUE, coolingHours: 0 }]);
    expect(waits.map(({ what }) => what)).toEqual(['"Bisque"', 'cooling', '"Bisque"']);
    expect(totalMinutes(waits)).toBe(2 * 598 + 1200);
  });

  test('is rounded up to a minute: a minute less would not do', () => {
    const odd = { ...BISQUE, segments: [{ ratePerHourC: 70, targetC: 1000, holdMinutes: 0 }], coolingHours: 0 };
    expect(totalMinutes(waitsBetween(0, [odd]))).toBe(840);
    const odder = { ...odd, segments: [{ ratePerHourC: 71, targetC: 1000, holdMinutes: 0 }] };
    expect(totalMinutes(waitsBetween(0, [odder]))).toBe(829); // 828.17
  });

  test('is said in days where they are whole, else in hours', () => {
    expect([168, 48, 24, 9.966, 1, 0.25].map(hoursInWords)).toEqual([
      '7 days',
      '2 days',
      '24 hours',
      '10 hours',
      '1 hour',
      '0.3 hours',
    ]);
  });
});
