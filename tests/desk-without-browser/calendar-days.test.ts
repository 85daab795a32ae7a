import { expect, test } from 'vitest';
import { formatterFor } from '../../src/desk/format/formatter';
import {
  boundsOf,
  type CalendarDays,
  daysOf,
  monthIn,
  monthsLater,
  weekdayOf,
} from '../../src/desk/pages/courses/calendar/days';

const london = formatterFor({ currency: 'GBP', locale: 'en-GB', timeZone: 'Europe/London', today: '2026-03-10' });
const auckland = formatterFor({ currency: 'NZD', locale: 'en-NZ', timeZone: 'Pacific/Auckland', today: '2026-03-10' });

test('a month begins and ends where a wall calendar says', () => {
  expect(boundsOf('2026-02')).toEqual({ from: '2026-02-01', to: '2026-02-28' });
  expect(boundsOf('2028-02').to).toBe('2028-02-29');
  expect(boundsOf('2026-04').to).toBe('2026-04-30');
  expect(boundsOf('2026-12').to).toBe('2026-12-31');
  // 1 January 2000 was a Saturday, and 29 February 2024 a Thursday
  expect([weekdayOf('2000-01-01'), weekdayOf('2024-02-29'), weekdayOf('2026-03-09')]).toEqual([5, 3, 0]);
});

test('months go on over the year, and end where the studio can plan no more', () => {
  expect([monthsLater('2026-12', 1), monthsLater('2026-01', -1)]).toEqual(['2027-01', '2025-12']);
  expect([monthsLater('2099-12', 1), monthsLater('2000-01', -1)]).toEqual([null, null]);
  expect([
    monthIn('2026-11', '2026-03-10'),
    monthIn('2026-13', '2026-03-10'),
    monthIn(undefined, '2026-03-10'),
  ]).toEqual(['2026-11', '2026-03', '2026-03']);
});

const firing: CalendarDays['firings'][number] = {
  ...{ id: '1', number: 7, kilnName: 'Back kiln', kind: 'glaze', state: 'planned', isLate: false },
  ...{ from: '2026-03-27T08:00:00Z', coolsFrom: '2026-03-27T22:00:00Z', to: '2026-03-29T13:00:00Z' },
};
const found = (changes: Partial<CalendarDays>): CalendarDays => ({
  ...{ from: '2026-03-26', to: '2026-03-30', sessions: [], firings: [], closures: [] },
  ...changes,
});
const kilns = (of: CalendarDays) => daysOf(of, london).map((day) => day.kilns.map(({ what }) => what).join());

test('a kiln heats, cools and is cold again, by the clock of the studio', () => {
  expect(kilns(found({ firings: [firing] }))).toEqual([
    '',
    'Back kiln: glaze firing from 8:00',
    'Back kiln: cools',
    'Back kiln: cold by 14:00', // the clocks went forward in the night before
    '',
  ]);
  expect(kilns(found({ firings: [{ ...firing, state: 'settled' }] }))[3]).toBe('Back kiln: unloaded at 14:00');
  expect(kilns(found({ firings: [{ ...firing, state: 'firing', isLate: true }] }))[3]).toBe(
    'Back kiln: not unloaded yet',
  );
  expect(
    kilns(found({ firings: [{ ...firing, to: '2026-03-27T20:00:00Z', coolsFrom: '2026-03-27T12:00:00Z' }] }))[1],
  ).toBe('Back kiln: glaze firing from 8:00, cold by 20:00');
});

test('a session is on the day on which it begins where the studio is', () => {
  const session: CalendarDays['sessions'][number] = {
    ...{ id: '1', courseId: '2', title: 'Bowls', kind: 'course', ordinal: 1, of: 1, roomName: 'Long room', tutors: [] },
    ...{ startsAt: '2026-03-27T20:00:00Z', endsAt: '2026-03-27T22:00:00Z', cancelledBecause: null },
    ...{ places: 8, placesTaken: 0, placesMadeUp: 0 },
  };
  const on = (formatter: typeof london) =>
    daysOf(found({ sessions: [session] }), formatter).find(({ sessions }) => sessions.length > 0)?.day;
  expect([on(london), on(auckland)]).toEqual(['2026-03-27', '2026-03-28']);
});
