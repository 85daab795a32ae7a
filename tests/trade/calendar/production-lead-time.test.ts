import { describe, expect, test } from 'vitest';
import { gapBefore, type Purpose } from '../../../src/trade/calendar/production-lead-time.js';

const bisque = {
  ...{ name: 'Bisque', kind: 'bisque' as const, coolingHours: 24 },
  segments: [{ ratePerHourC: 98, targetC: 1000, holdMinutes: 120 }], // 10 h up from 20 °C, and 2 h held
};
const glaze = { ...bisque, name: 'Stoneware', kind: 'glaze' as const, coolingHours: 12 };
const gap = (purposes: Purpose[], at: number, firings = [bisque, glaze]) =>
  gapBefore({ purposes, dryingDays: 7, firings }, at);

describe('what must lie before a session', () => {
  test('that glazes: the last ware before it dries, is bisqued and cools', () => {
    expect(gap(['making', 'finishing', 'glazing'], 2)).toEqual({
      after: 1,
      waits: [
        { what: 'drying', hours: 168 },
        { what: '"Bisque"', hours: 12 },
        { what: 'cooling', hours: 24 },
      ],
      minutes: (168 + 12 + 24) * 60,
    });
    expect(gap(['making', 'glazing', 'making', 'glazing'], 3)?.after).toBe(2);
  });

  test('that glazes: of two firings before it the second waits until the first is cold, and so does the session', () => {
    const soft = { ...bisque, name: 'Soft bisque', coolingHours: 10 };
    expect(gap(['making', 'glazing'], 1, [soft, bisque, glaze])).toMatchObject({
      waits: [
        { what: 'drying', hours: 168 },
        { what: '"Soft bisque"', hours: 12 },
        { what: 'cooling', hours: 10 },
        { what: '"Bisque"', hours: 12 },
        { what: 'cooling', hours: 24 },
      ],
      minutes: (168 + 12 + 10 + 12 + 24) * 60,
    });
  });

  test('of lustre: what was glazed is fired and cools, and is dry long since', () => {
    expect(gap(['making', 'glazing', 'lustre'], 2)).toMatchObject({ after: 1, minutes: (12 + 12) * 60 });
  });

  test('is nothing where it works on no ware of before, or nobody knows of a firing', () => {
    expect(gap(['making', 'making', 'slip'], 2)).toBe(null);
    expect(gap(['glazing'], 0)).toBe(null);
    expect(gap(['making', 'lustre'], 1)).toBe(null);
    expect(gap(['making', 'glazing'], 1, [glaze])).toBe(null);
    expect(gap(['making'], 5)).toBe(null);
  });
});
