import fc from 'fast-check';
import ical, { type VEvent } from 'node-ical';
import { describe, expect, test } from 'vitest';
import { addDays, instantAt } from '../../../src/trade/calendar/calendar.js';
import { seriesDays, weekdayOf } from '../../../src/trade/calendar/series.js';

const CODES = ['MO', 'TU', 'WE', 'TH', 'FR', 'SA', 'SU'];

/** The instants of the same series as an independent library reads them off a recurrence rule (RFC 5545, section 3.3.10). */
function byTheRule(
  { from, weekdays, everyWeeks, until }: { from: string; weekdays: number[]; everyWeeks: number; until: string },
  { time, timeZone }: { time: string; timeZone: string },
): string[] {
  const compact = (day: string) => day.replaceAll('-', '');
  const rule = `FREQ=WEEKLY;WKST=MO;INTERVAL=${everyWeeks};BYDAY=${weekdays.map((day) => CODES[day - 1]).join(',')};UNTIL=${compact(addDays(until, 1))}T115959Z`;
  const at = `${compact(from)}T${time.replace(':', '')}00`;
  const text = `BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//test//EN\r\nBEGIN:VEVENT\r\nUID:1\r\nDTSTAMP:20260101T000000Z\r\nDTSTART;TZID=${timeZone}:${at}\r\nRRULE:${rule}\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n`;
  const [event] = Object.values(ical.sync.parseICS(text)).filter((one): one is VEvent => one?.type === 'VEVENT');
  const found = event?.rrule?.all() ?? [];
  return found.map((date) => date.toISOString());
}

describe('the days of a series', () => {
  test('are every Tuesday, five times from 12 January, without 16 February', () => {
    const tuesdays = { from: '2027-01-12', weekdays: [2], everyWeeks: 1 };
    expect(seriesDays(tuesdays, 5, (day) => day === '2027-01-26')).toEqual([
      ...['2027-01-12', '2027-01-19', '2027-02-02', '2027-02-09', '2027-02-16'],
    ]);
    expect(seriesDays({ ...tuesdays, until: '2027-02-10' }, 9)).toHaveLength(5);
    expect(seriesDays({ from: '2027-01-13', weekdays: [2], everyWeeks: 2 }, 2)).toEqual(['2027-01-26', '2027-02-09']);
    expect(seriesDays({ ...tuesdays, weekdays: [] }, 3)).toEqual([]);
    expect(seriesDays(tuesdays, 3, () => true)).toEqual([]);
  });

  test('have their weekday: 1 January 2000 was a Saturday', () => {
    expect([weekdayOf('2000-01-01'), weekdayOf('1970-01-05'), weekdayOf('1969-12-28')]).toEqual([6, 1, 7]);
  });

  test.each([
    ['Europe/London', '19:00'],
    ['Pacific/Auckland', '10:00'],
    ['America/New_York', '18:30'],
  ])('are at the same hour as a recurrence rule has them, in %s, across both clock changes', (timeZone, time) => {
    const series = fc.record({
      start: fc.integer({ min: 0, max: 700 }),
      weekdays: fc.uniqueArray(fc.integer({ min: 1, max: 7 }), { minLength: 1, maxLength: 4 }),
      everyWeeks: fc.integer({ min: 1, max: 3 }),
      length: fc.integer({ min: 0, max: 300 }),
    });
    fc.assert(
      fc.property(series, ({ start, weekdays, everyWeeks, length }) => {
        // a rule counts its own first day whether it fits or not, so it begins on one that does
        const loose = addDays('2026-01-01', start);
        const from = [0, 1, 2, 3, 4, 5, 6]
          .map((days) => addDays(loose, days))
          .find((day) => weekdays.includes(weekdayOf(day)));
        const asked = { from: from ?? loose, weekdays, everyWeeks, until: addDays(from ?? loose, length) };
        const ours = seriesDays(asked, 400).map((day) => instantAt(day, time, timeZone).toISOString());
        const theirs = byTheRule(asked, { time, timeZone }).filter(
          (at) => at <= instantAt(asked.until, '23:59', timeZone).toISOString(),
        );
        expect(ours).toEqual(theirs);
      }),
      { numRuns: 60 },
    );
  });
});
