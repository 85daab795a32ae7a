import { describe, expect, test } from 'vitest';
import { chamberOf, lasting, stepOf } from '../../src/desk/basics/kiln-labels';
import { formatterFor } from '../../src/desk/format/formatter';
import { daysOf, monthOf, placesLeft, stateOf } from '../../src/desk/pages/courses/labels';
import { type Firing, phaseOf } from '../../src/desk/pages/kilns/firings/labels';
import { wayOf } from '../../src/desk/pages/letters/labels';
import { bodyOf, valuesOf } from '../../src/desk/pages/people/person-values';
import { askedFor, since } from '../../src/desk/pages/ware/labels';
import { type Found, groupsFound, saidOf } from '../../src/desk/ui/found-items';
import { answerOf, groupsOf } from '../../src/desk/ui/list-words';

const british = formatterFor({ currency: 'GBP', locale: 'en-GB', timeZone: 'Europe/London', today: '2026-03-10' });
const american = formatterFor({ currency: 'USD', locale: 'en-US', timeZone: 'America/New_York', today: '2026-03-10' });

test('a list says how many there are, or match, and never a total that it does not know', () => {
  const found = (total: number, totalIsMinimum = false) => ({ total, totalIsMinimum });
  const people = ['person', 'people'] as const;
  expect(answerOf(found(0), people, true)).toBe('No people match.');
  expect(answerOf(found(1), people, true)).toBe('One person matches.');
  expect(answerOf(found(168), people, false)).toBe('168 people.');
  expect(answerOf(found(1000, true), people, false)).toBe('More than 1000 people.');
});

test('rows that follow one another under one heading stay in their order', () => {
  const rows = ['May 1', 'May 2', 'June 1'];
  expect(groupsOf(rows, (row) => row.slice(0, -2))).toEqual([
    { heading: 'May', items: ['May 1', 'May 2'] },
    { heading: 'June', items: ['June 1'] },
  ]);
});

describe('a course', () => {
  const sessions = [{ startsAt: '2026-04-14T18:00:00Z' }] as never;
  test('stands under its month, in either order of day and month', () => {
    expect(monthOf({ sessions, nextStartsAt: null }, british)).toBe('April 2026');
    expect(monthOf({ sessions, nextStartsAt: null }, american)).toBe('April 2026');
    expect(monthOf({ sessions, nextStartsAt: '2026-05-05T18:00:00Z' }, british)).toBe('May 2026');
    expect(daysOf({ sessions }, british)).toBe('Tuesday 14 April, 19:00');
  });
  test('says whether it can run and what is left', () => {
    const course = { kind: 'course', state: 'coming', placesTaken: 3, placesMadeUp: 0, minimum: 4 } as const;
    expect(stateOf(course)).toBe('Needs one student more to run');
    expect(stateOf({ ...course, placesTaken: 4 })).toBe('Enough students');
    expect(placesLeft({ ...course, places: 8 })).toBe('5 of 8 left');
    expect(placesLeft({ ...course, places: 8, placesMadeUp: 2 })).toBe('3 of 8 left');
    expect(placesLeft({ ...course, places: 8, placesTaken: 9 })).toBe('full, 9 taken');
    expect(placesLeft({ ...course, places: 8, state: 'cancelled' })).toBe('');
    expect(stateOf({ ...course, state: 'cancelled' })).toBe('Cancelled');
    const group = { ...course, kind: 'private', places: 8 } as const;
    expect([stateOf(group), placesLeft(group)]).toEqual(['Booked', 'a group of 3']);
    const free = { ...group, placesTaken: 0 };
    expect([stateOf(free), placesLeft(free)]).toEqual(['Not booked yet', 'free for a group']);
  });
});

describe('ware', () => {
  test('is asked for as it is said: here and longest waiting first, unless a stage says that it is gone', () => {
    expect(askedFor({})).toMatchObject({ is: 'here', order: 'waiting' });
    expect(askedFor({ which: 'newest' })).toMatchObject({ is: 'here', order: 'newest' });
    expect(askedFor({ which: 'gone' })).toMatchObject({ is: 'gone', order: 'newest' });
    expect(askedFor({ stage: 'broken' })).not.toHaveProperty('is');
    expect(askedFor({ which: 'gone', stage: 'bisque' })).toMatchObject({ is: 'gone', stage: 'bisque' });
  });
  test('waits by days of the studio', () => {
    const notedAt = '2026-03-08T23:30:00Z';
    expect(since({ notedAt, stage: 'dry' }, '2026-03-10', british)).toBe('2 days, since 8 March');
    expect(since({ notedAt, stage: 'broken' }, '2026-03-10', british)).toBe('8 March');
  });
});

test('a firing is heating by its schedule, then cooling, then to unload', () => {
  const firing = {
    ...{ state: 'firing', startedAt: '2026-03-09T09:00:00Z' },
    ...{ plannedFrom: '2026-03-09T08:00:00Z', plannedTo: '2026-03-10T08:00:00Z' },
  } as Firing;
  const schedule = { programmedMinutes: 600 };
  const phase = (now: string) => phaseOf(firing, schedule, Date.parse(now));
  expect(phase('2026-03-09T18:59:00Z')).toBe('Firing');
  expect(phase('2026-03-09T19:00:00Z')).toBe('Cooling, by its schedule');
  expect(phase('2026-03-10T09:00:00Z')).toBe('To unload');
});

test('kilns and schedules are told in litres, hours and degrees', () => {
  const size = { widthMm: 450, depthMm: 450, heightMm: 500, chamberMm3: 101_250_000 };
  expect(chamberOf({ ...size, shape: 'rectangular' } as never)).toBe('101 litres, 45 by 45 cm, 50 cm high');
  expect(lasting(618)).toBe('10 hours 18 min');
  expect(stepOf({ ratePerHourC: 60, targetC: 120, holdMinutes: 60 })).toBe('60 °C an hour to 120 °C, held 1 hour');
});

test('a letter says why it failed', () => {
  const deliveries = [{ at: '2026-03-09T09:00:00Z', outcome: 'failed' as const, detail: 'No such mailbox.' }];
  expect(wayOf({ state: 'failed', deliveries }, british)).toBe('No such mailbox.');
  expect(wayOf({ state: 'sent', deliveries }, british)).toBe('on 9 March');
});

test('what is empty in the form of a person is sent as nothing, and each line of the address as a line', () => {
  const typed = { ...valuesOf(null), name: ' Ada Finch ', addressLines: '3 Mill Row\n\n Ostlemere ' };
  expect(bodyOf(typed)).toEqual({
    ...{ name: 'Ada Finch', paperName: null, email: null, phone: null, memberSince: null },
    ...{ isChild: false, wishes: null, note: null },
    addressLines: ['3 Mill Row', 'Ostlemere'],
  });
});

describe('the find box', () => {
  const piece: NonNullable<Found['pieces']>['items'][number] = {
    ...{ id: 'p', code: '4K7A', makerId: 'm', makerName: 'Ada Finch', form: 'mug', description: 'Mug' },
    ...{ stage: 'dry', boardName: null, courseTitle: null },
  };
  const none: Found = { people: null, pieces: null, courses: null, papers: null, mistypedCode: null };
  test('leads to the list of a noun of which there is more', () => {
    const groups = groupsFound({ ...none, pieces: { items: [piece], more: true } }, 'a mug', british);
    expect(groups).toEqual([
      {
        name: 'Ware',
        items: [
          { value: '/ware/p', label: '4K7A, Mug', detail: 'Ada Finch, bone dry' },
          { value: '/ware?which=all&q=a%20mug', label: 'All ware found', detail: '' },
        ],
      },
    ]);
  });
  test('tells the day of a course as people say it', () => {
    const course = {
      id: 'c',
      title: 'Lidded jars',
      planName: 'Jars',
      state: 'coming',
      firstDay: '2026-04-14',
    } as const;
    const [courses] = groupsFound({ ...none, courses: { items: [course], more: false } }, 'jars', british);
    expect(courses?.items[0]).toMatchObject({ label: 'Lidded jars', detail: 'Jars, 14 April 2026' });
  });
  test('says which sign of a code differs, and that nothing was found', () => {
    const mistypedCode = { said: '“5K7A” is not a code', pieces: [{ ...piece, wrongSign: 1 }] };
    const groups = groupsFound({ ...none, mistypedCode }, '5K7A', british);
    expect(groups[0]?.items[0]?.detail).toBe('sign 1 differs; Ada Finch');
    expect(saidOf({ ...none, mistypedCode }, '5K7A', groups)).toBe('“5K7A” is not a code');
    expect(saidOf(none, 'zz', [])).toBe('Nothing is found for “zz”. Try fewer letters.');
  });
});
