import { describe, expect, test } from 'vitest';
import {
  earliest,
  isSkipped,
  leftOut,
  type Paced,
  proposed,
  timesOf,
  whenOf,
} from '../../src/desk/pages/courses/plans/calendar-dates.js';
import { courseBody, courseDraft } from '../../src/desk/pages/courses/plans/course-request-body.js';
import type { Places, Plan } from '../../src/desk/pages/courses/plans/queries.js';
import type { Purpose } from '../../src/trade/calendar/production-lead-time.js';

const LONDON = 'Europe/London';
const bisque = {
  ...{ name: 'Bisque', kind: 'bisque' as const, coolingHours: 24 },
  segments: [{ ratePerHourC: 98, targetC: 1000, holdMinutes: 120 }], // 10 h up from 20 °C, and 2 h held
};
const paced = (purposes: Purpose[], dryingDays = 7): Paced => ({
  recipe: { purposes, dryingDays, firings: [bisque] },
  minutes: purposes.map(() => 150),
  timeZone: LONDON,
});
const evening = (day: string) => ({ day, time: '19:00' });
/** Each Tuesday. */
const TUESDAYS = { weekdays: [2], everyWeeks: 1 };
const DAILY = { weekdays: [1, 2, 3, 4, 5, 6, 7], everyWeeks: 1 };

describe('the days of a course', () => {
  test('follow each other in their rhythm, and stay at their hour when the clocks change', () => {
    const days = proposed(paced(['making', 'making', 'making']), evening('2026-03-17'), TUESDAYS);
    expect(days).toEqual(['2026-03-17', '2026-03-24', '2026-03-31'].map(evening));
    // the United Kingdom's clocks go forward on 29 March 2026, the last Sunday of the month (from memory)
    expect(days.map((when) => timesOf(when, 150, LONDON)?.startsAt)).toEqual([
      '2026-03-17T19:00:00.000Z',
      '2026-03-24T19:00:00.000Z',
      '2026-03-31T18:00:00.000Z',
    ]);
  });

  test('leave the time in which ware dries, is fired and cools', () => {
    const of = paced(['making', 'glazing', 'glazing']);
    const days = proposed(of, evening('2026-01-06'), TUESDAYS);
    // 204 hours from 21:30 are past the 13th, and before the 20th
    expect(days).toEqual(['2026-01-06', '2026-01-20', '2026-01-27'].map(evening));
    const times = days.map((when) => timesOf(when, 150, LONDON));
    expect(earliest(of, times, 1)).toBe('2026-01-15T09:30:00.000Z');
    expect(whenOf('2026-01-15T09:30:00.000Z', LONDON)).toEqual({ day: '2026-01-15', time: '09:30' });
    expect(earliest(of, times, 0)).toBe(null);
    expect(proposed(paced(['making', 'glazing'], 0), evening('2026-01-06'), DAILY)[1]).toEqual(evening('2026-01-08'));
  });

  test('are none where none can be read', () => {
    expect(timesOf({ day: '', time: '19:00' }, 60, LONDON)).toBe(null);
    expect(timesOf({ day: '2026-02-31', time: '19:00' }, 60, LONDON)).toBe(null);
    expect(timesOf({ day: '2026-02-03', time: '' }, 60, LONDON)).toBe(null);
    expect(proposed(paced(['making', 'making']), { day: '', time: '' }, TUESDAYS)).toHaveLength(2);
  });
});

describe('a series', () => {
  const five = paced(['making', 'making', 'making', 'making', 'making']);
  const halfTerm = (day: string) => '2027-02-15' <= day && day <= '2027-02-19';

  test('of five Tuesdays goes around half-term, and says which it left out', () => {
    const days = proposed(five, evening('2027-01-26'), TUESDAYS, 5, halfTerm);
    expect(days.map(({ day }) => day)).toEqual([
      ...['2027-01-26', '2027-02-02', '2027-02-09', '2027-02-23', '2027-03-02'],
    ]);
    expect(leftOut(days, TUESDAYS, '2027-01-26', halfTerm)).toEqual(['2027-02-16']);
    expect(leftOut(days, TUESDAYS, '2027-01-26', () => false)).toEqual([]);
  });

  test('of courses with one session each ends where it was told to', () => {
    const one = paced(['making']);
    const until = { ...TUESDAYS, until: '2026-04-07' };
    const days = proposed(one, evening('2026-03-17'), until, 60);
    expect(days).toHaveLength(4);
    expect(days.map((when) => timesOf(when, 60, LONDON)?.startsAt.slice(11, 16))).toEqual([
      ...['19:00', '19:00', '18:00', '18:00'], // UTC
    ]);
  });

  test('has no session in the hour that the clocks skip', () => {
    expect(isSkipped({ day: '2026-03-29', time: '01:30' }, LONDON)).toBe(true);
    expect(isSkipped({ day: '2026-03-28', time: '01:30' }, LONDON)).toBe(false);
    expect(isSkipped({ day: '2026-10-25', time: '01:30' }, LONDON)).toBe(false); // twice, of which the first is meant
    expect(isSkipped({ day: '2026-10-04', time: '02:30' }, 'Australia/Sydney')).toBe(true);
  });
});

describe('a course as it is sent', () => {
  const plan = {
    ...{ id: 'p', name: 'Two mugs', kind: 'course', places: 8, minimum: 4, groupOf: null },
    sessions: [{ purpose: 'making' }, { purpose: 'glazing' }],
  } as Plan;
  const of = paced(['making', 'glazing']);
  const places = {
    ...{ rooms: [{ id: 'room' }], refundPolicies: [{ id: 'r' }], staff: [{ id: 'mara' }], closures: [], last: null },
  } as unknown as Places;
  const begun = (of: Plan, from = places) => ({ ...courseDraft(of, from, 'GBP'), taxRateId: 't' });

  test('has a time for each session, its room and who teaches', () => {
    const dates = ['2026-04-07', '2026-04-21'].map(evening);
    const { body, faults } = courseBody({ ...begun(plan), tutorId: 'mara', price: '120', dates }, plan, of, 'GBP');
    expect(faults).toEqual([]);
    expect(body).toMatchObject({ title: 'Two mugs', places: 8, minimum: 4, priceMinor: 12_000, depositMinor: 0 });
    expect(body.sessions[0]).toEqual({
      startsAt: '2026-04-07T18:00:00.000Z',
      endsAt: '2026-04-07T20:30:00.000Z',
      ...{ roomId: 'room', tutorIds: ['mara'] },
    });
    expect('perHeadAboveMinor' in body).toBe(false);
  });

  test('begins as the last course of its plan was held, but on no day', () => {
    const last = {
      ...{ title: 'Two mugs, spring', priceMinor: 12_500, perHeadAboveMinor: null, depositMinor: 2500, holdHours: 48 },
      ...{ balanceDueDays: 21, taxRateId: 'zero', refundPolicyId: 'strict' },
      sessions: [{ roomId: 'loft', tutors: [{ id: 'gone' }, { id: 'mara' }] }],
    } as unknown as Places['last'];
    expect(courseDraft(plan, { ...places, last }, 'GBP')).toMatchObject({
      ...{ title: 'Two mugs, spring', price: '125.00', deposit: '25.00', holdHours: '48', balanceDueDays: '21' },
      ...{ taxRateId: 'zero', refundPolicyId: 'strict', roomId: 'loft', tutorId: 'mara', places: '8' },
      dates: [
        { day: '', time: '' },
        { day: '', time: '' },
      ],
    });
  });

  test('says by its field what is missing', () => {
    const draft = { ...courseDraft(plan, { ...places, rooms: [], refundPolicies: [] }, 'GBP'), deposit: 'much' };
    expect(
      courseBody(draft, plan, of, 'GBP')
        .faults.map(({ pointer }) => pointer)
        .sort(),
    ).toEqual([
      ...['#/depositMinor', '#/priceMinor', '#/refundPolicyId', '#/roomId'],
      ...['#/sessions/0/startsAt', '#/sessions/1/startsAt', '#/taxRateId'],
    ]);
  });

  test('of a group says what each head above it costs', () => {
    const group = { ...plan, kind: 'private', groupOf: 6 } as Plan;
    const { body, faults } = courseBody({ ...begun(group), price: '1', perHeadAbove: '20' }, group, of, 'GBP');
    expect(body.perHeadAboveMinor).toBe(2000);
    expect(faults.every(({ pointer }) => pointer.startsWith('#/sessions'))).toBe(true);
  });
});
