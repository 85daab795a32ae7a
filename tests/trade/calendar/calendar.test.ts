import fc from 'fast-check';
import { afterEach, describe, expect, test } from 'vitest';
import {
  addDays,
  daysBetween,
  instantAt,
  isTimeZone,
  localDay,
  localTime,
  minuteOfDay,
} from '../../../src/trade/calendar/calendar.js';
import { formatDay } from '../../../src/trade/text/format.js';

const homeZone = process.env.TZ;
afterEach(() => {
  if (homeZone === undefined) delete process.env.TZ;
  else process.env.TZ = homeZone;
});

// Clock changes from the IANA time zone database: Europe/London 2026-03-29 01:00Z and 2026-10-25 01:00Z; America/New_York
// 2026-03-08 07:00Z and 2026-11-01 06:00Z; Australia/Lord_Howe by half an hour, 2026-04-04 15:00Z.
describe.each(['UTC', 'Pacific/Auckland', 'America/Los_Angeles'])('on a computer that stands in %s', (zone) => {
  test.each([
    ['2026-03-24', '19:00', 'Europe/London', '2026-03-24T19:00:00.000Z'],
    ['2026-03-31', '19:00', 'Europe/London', '2026-03-31T18:00:00.000Z'],
    ['2026-10-20', '19:00', 'Europe/London', '2026-10-20T18:00:00.000Z'],
    ['2026-10-27', '19:00', 'Europe/London', '2026-10-27T19:00:00.000Z'],
    ['2026-03-03', '19:00', 'America/New_York', '2026-03-04T00:00:00.000Z'],
    ['2026-03-10', '19:00', 'America/New_York', '2026-03-10T23:00:00.000Z'],
    ['2026-04-05', '12:00', 'Australia/Lord_Howe', '2026-04-05T01:30:00.000Z'],
  ])('a session on %s at %s in %s is at %s', (day, time, place, instant) => {
    process.env.TZ = zone;
    expect(Intl.DateTimeFormat().resolvedOptions().timeZone).toBe(zone); // so that this can fail at all
    const at = instantAt(day, time, place);
    expect(at.toISOString()).toBe(instant);
    expect([localDay(at, place), localTime(at, place)]).toEqual([day, time]);
    expect(minuteOfDay(at, place)).toBe(Number(time.slice(0, 2)) * 60);
  });

  test('a time that is skipped comes after the gap, one that comes twice is the first', () => {
    process.env.TZ = zone;
    expect(instantAt('2026-03-29', '01:30', 'Europe/London').toISOString()).toBe('2026-03-29T01:30:00.000Z'); // 02:30 on the wall
    expect(instantAt('2026-10-25', '01:30', 'Europe/London').toISOString()).toBe('2026-10-25T00:30:00.000Z');
  });

  test('a day in words is the day that was meant', () => {
    process.env.TZ = zone;
    expect(formatDay('2026-03-29', 'en-GB', { weekday: true })).toBe('Sunday 29 March 2026');
    expect(formatDay('2028-02-29', 'de-DE')).toBe('29 February 2028');
  });
});

test('weekly sessions stay at 19:00 through a whole year', () => {
  for (let week = 0; week < 60; week++) {
    const day = addDays('2026-01-06', week * 7);
    expect(localTime(instantAt(day, '19:00', 'Europe/London'), 'Europe/London')).toBe('19:00');
    expect(new Date(`${day}T12:00:00Z`).getUTCDay()).toBe(2);
  }
});

const day = fc
  .date({ min: new Date('1990-01-01'), max: new Date('2090-01-01'), noInvalidDate: true })
  .map((at) => at.toISOString().slice(0, 10));

test('going so many days on and counting them is one and the same', () => {
  fc.assert(
    fc.property(day, fc.integer({ min: -5000, max: 5000 }), (from, days) => {
      expect(daysBetween(from, addDays(from, days))).toBe(days);
      expect(addDays(addDays(from, days), -days)).toBe(from);
    }),
  );
});

test('the local day of an instant never strays from that in UTC by more than one', () => {
  const zones = fc.constantFrom('Europe/London', 'Pacific/Kiritimati', 'Pacific/Pago_Pago', 'Asia/Kathmandu');
  const moment = fc.date({ min: new Date('1990-01-01'), max: new Date('2090-01-01'), noInvalidDate: true });
  fc.assert(
    fc.property(moment, zones, (at, zone) => {
      expect(Math.abs(daysBetween(at.toISOString().slice(0, 10), localDay(at, zone)))).toBeLessThanOrEqual(1);
      const minute = minuteOfDay(at, zone);
      expect(minute).toBe(Number(localTime(at, zone).slice(0, 2)) * 60 + Number(localTime(at, zone).slice(3)));
    }),
  );
});

test.each([
  ['Europe/London', true],
  ['UTC', true],
  ['Europe/Ostlemere', false],
  ['', false],
  ['GMT+25', false],
])('is %s a time zone? %s', (name, is) => expect(isTimeZone(name)).toBe(is));

test.each([['2026-02-30'], ['2026-13-01'], ['yesterday']])('%s is no day', (text) => {
  expect(() => addDays(text, 1)).toThrow(RangeError);
});
