import { beforeAll, beforeEach, describe, expect, test } from 'vitest';
import type { Booking } from '../../../src/studio/bookings/contract.js';
import type { TodaySession } from '../../../src/studio/reports/contract.js';
import { testApp } from '../../support/app.js';
import { payFor } from '../../support/fixtures/bookings.js';
import { coursesFixture, planBody } from '../../support/fixtures/courses.js';
import { materialFixture } from '../../support/fixtures/materials.js';
import { made, personFixture } from '../../support/fixtures.js';

const { owner, tutor, clock, tutorMember, ownerMember } = await testApp();
const home = await coursesFixture(owner);
// without a firing between them, sessions may be as close as the clock allows
const unfired = await made(owner, '/api/course-plans', { ...planBody(home), firings: [] });

type Sessions = { day: string; sessions: TodaySession[]; nextSessionsOn: string | null };
async function todayAt(instant: string, caller = owner): Promise<Sessions> {
  await clock.set(instant);
  const answer = await caller.get('/api/today');
  if (answer.statusCode !== 200) throw new Error(answer.body);
  return answer.json();
}
/** A course of two sessions, each with its begin and end. */
const courseAt = (title: string, times: [string, string][], changes: object = {}) => {
  const sessions = times.map(([startsAt, endsAt]) => ({ startsAt, endsAt, roomId: home.room.id, benches: 3 }));
  return made<{ id: string; sessions: { id: string }[] }>(owner, '/api/courses', {
    ...{ ...home.body, title, planId: unfired.id, places: 3, minimum: 1, sessions },
    ...changes,
  });
};
const titles = ({ sessions }: Sessions) => sessions.map(({ title, purpose }) => `${title}, ${purpose}`);

beforeEach(() => clock.set('2026-03-10T09:00:00Z'));

describe('who is coming', () => {
  test('is told of each session of the day, in its order, without money', async () => {
    const staff = [tutorMember.id, ownerMember.id];
    const bowls = await made<{ id: string; sessions: { id: string }[] }>(owner, '/api/courses', {
      ...{ ...home.body, title: 'Bowls', places: 4, minimum: 1 },
      sessions: [
        { startsAt: '2026-03-16T19:00:00Z', endsAt: '2026-03-16T21:00:00Z', roomId: home.room.id, tutorIds: staff },
        { startsAt: '2026-03-23T19:00:00Z', endsAt: '2026-03-23T21:00:00Z', roomId: home.room.id },
      ],
    });
    const early = await courseAt('Early', [
      ['2026-03-16T08:00:00Z', '2026-03-16T10:00:00Z'],
      ['2026-03-24T08:00:00Z', '2026-03-24T10:00:00Z'],
    ]);
    const [zoe, ada] = [await personFixture(owner, 'Zoe Marsh'), await personFixture(owner, 'Ada Finch')];
    const [tom, eve] = [await personFixture(owner, 'Tom Ashby'), await personFixture(owner, 'Eve Lund')];
    const book = (courseId: string, ...ids: string[]) =>
      made<Booking>(owner, `/api/courses/${courseId}/bookings`, { payerId: ids[0], attendeeIds: ids });
    const two = await book(bowls.id, zoe.id, ada.id); // deposits 2 * 30.00
    await payFor(owner, two, 5999);
    const sure = await book(bowls.id, tom.id);
    await payFor(owner, sure, 3000);
    const gone = await book(bowls.id, eve.id);
    await owner.post(`/api/bookings/${gone.id}/cancellation`, { reason: 'Ill' });
    const lapsing = await book(early.id, eve.id); // held for 48 hours, nothing paid

    const held = await todayAt('2026-03-12T08:00:00Z');
    expect(held.nextSessionsOn).toBe('2026-03-16');
    expect(held.sessions.map(({ coming }) => coming.map(({ name }) => name))).toEqual([
      ['Eve Lund'],
      ['Ada Finch', 'Tom Ashby', 'Zoe Marsh'],
    ]);
    expect(lapsing.payerId).toBe(eve.id);

    const { sessions, nextSessionsOn, day } = await todayAt('2026-03-16T22:00:00Z', tutor);
    expect([day, nextSessionsOn]).toEqual(['2026-03-16', null]);
    expect(sessions).toEqual([
      expect.objectContaining({ title: 'Early', purpose: 'making', booked: 1, places: 3, tutors: [] }),
      {
        ...{ sessionId: bowls.sessions[0]?.id, courseId: bowls.id, title: 'Bowls', purpose: 'making' },
        ...{ startsAt: '2026-03-16T19:00:00.000Z', endsAt: '2026-03-16T21:00:00.000Z', room: 'Long room' },
        ...{ tutors: ['Test owner', 'Test tutor'], booked: 3, places: 4, hazards: [] },
        coming: [
          { personId: ada.id, name: 'Ada Finch', provisional: true, makesUp: null },
          { personId: tom.id, name: 'Tom Ashby', provisional: false, makesUp: null },
          { personId: zoe.id, name: 'Zoe Marsh', provisional: true, makesUp: null },
        ],
      },
    ]);
  });

  test('does not count a place whose hold has run out, whether the job has released it or not', async () => {
    const course = await courseAt('Lapsing', [
      ['2026-06-02T18:00:00Z', '2026-06-02T20:00:00Z'],
      ['2026-06-09T18:00:00Z', '2026-06-09T20:00:00Z'],
    ]);
    const { id } = await personFixture(owner);
    await made(owner, `/api/courses/${course.id}/bookings`, { payerId: id, attendeeIds: [id] });
    const lapsing = async (at: string) => (await todayAt(at)).sessions.find(({ title }) => title === 'Lapsing')?.booked;
    await clock.set('2026-06-01T00:00:00Z');
    expect(await lapsing('2026-06-02T06:00:00Z')).toBe(0); // held until 12 March
  });
});

// The clocks in London go forward on the last Sunday of March and back on the last of October, at 01:00 GMT: Summer Time Act 1972 as
// amended by the Summer Time Order 2002 (from memory). In 2026 these are 29 March, of 23 hours, and 25 October, of 25.
describe('a day of the studio', () => {
  const LATE: [string, string] = ['2026-07-06T22:30:00Z', '2026-07-06T23:45:00Z']; // 23:30 to 00:45 in London
  const EARLY: [string, string] = ['2026-07-06T23:45:00Z', '2026-07-07T00:30:00Z']; // 00:45 to 01:30

  beforeAll(async () => {
    await clock.set('2026-03-10T09:00:00Z');
    await courseAt('Moonlight', [LATE, EARLY]);
    await courseAt('Spring', [
      ['2026-03-28T23:30:00Z', '2026-03-28T23:50:00Z'], // Saturday 23:30
      ['2026-03-29T22:30:00Z', '2026-03-29T22:50:00Z'], // Sunday 23:30, an hour earlier by UTC
    ]);
    await courseAt('Autumn', [
      ['2026-10-24T23:30:00Z', '2026-10-25T00:10:00Z'], // Sunday 00:30, summer time
      ['2026-10-25T23:30:00Z', '2026-10-25T23:50:00Z'], // Sunday 23:30, 25 hours into the day
    ]);
  });

  test('at 23:30 and at 00:30 is the one on the wall, not the one in Greenwich', async () => {
    const before = await todayAt('2026-07-06T22:30:00Z'); // Monday 23:30
    expect([before.day, before.nextSessionsOn, titles(before)]).toEqual(['2026-07-06', null, ['Moonlight, making']]);
    const after = await todayAt('2026-07-06T23:30:00Z'); // Tuesday 00:30: the one of yesterday goes on
    expect([after.day, titles(after)]).toEqual(['2026-07-07', ['Moonlight, making', 'Moonlight, glazing']]);
    const later = await todayAt('2026-07-06T23:45:00Z'); // and is over
    expect(titles(later)).toEqual(['Moonlight, glazing']);
    const evening = await todayAt('2026-07-07T20:00:00Z'); // what is over stays on its day
    expect(titles(evening)).toEqual(['Moonlight, glazing']);
  });

  test('has 23 hours when the clocks go forward', async () => {
    const saturday = await todayAt('2026-03-28T23:59:00Z');
    expect([saturday.day, titles(saturday)]).toEqual(['2026-03-28', ['Spring, making']]);
    const sunday = await todayAt('2026-03-29T00:30:00Z');
    expect([sunday.day, titles(sunday)]).toEqual(['2026-03-29', ['Spring, glazing']]);
    const night = await todayAt('2026-03-29T22:59:00Z'); // 23:59
    expect([night.day, titles(night)]).toEqual(['2026-03-29', ['Spring, glazing']]);
    expect((await todayAt('2026-03-29T23:30:00Z')).day).toBe('2026-03-30');
  });

  test('has 25 when they go back', async () => {
    const saturday = await todayAt('2026-10-24T22:30:00Z'); // 23:30
    expect([saturday.day, saturday.nextSessionsOn]).toEqual(['2026-10-24', '2026-10-25']);
    expect(titles(saturday)).toEqual(['Autumn, making', 'Autumn, glazing']);
    const sunday = await todayAt('2026-10-24T23:30:00Z'); // 00:30
    expect([sunday.day, sunday.nextSessionsOn]).toEqual(['2026-10-25', null]);
    expect(titles(await todayAt('2026-10-25T23:59:00Z'))).toEqual(['Autumn, making', 'Autumn, glazing']);
    expect((await todayAt('2026-10-26T00:30:00Z')).sessions).toEqual([]);
  });
});

describe('what the materials of a session warn of', () => {
  test('stands with the session that uses them, for a tutor too, by their data sheets', async () => {
    const dry = { unit: 'g', packQuantity: 10, waterPercent: null, firingRange: null };
    const plain = { ...dry, dryingShrinkagePercent: null, firingShrinkagePercent: null };
    const hazardNote = { text: 'Holds solvents.', statedOn: '2025-01-20' };
    const gold = await materialFixture(owner, { ...plain, kind: 'lustre', hazardNote });
    const box = await materialFixture(owner, { ...plain, kind: 'packaging' });
    const sessions = (['making', 'lustre'] as const).map((purpose) => ({
      ...{ purpose, minutes: 120, prepareMinutes: 20, clearMinutes: 20 },
    }));
    const materials = [gold, box].map(({ id }) => ({ materialId: id, perStudent: 2 }));
    const plan = { ...planBody(home), sessions, materials, firings: [] };
    const { id } = await made(owner, '/api/course-plans', plan);
    await courseAt(
      'Gold rims',
      [
        ['2026-05-04T08:00:00Z', '2026-05-04T10:00:00Z'],
        ['2026-05-18T08:00:00Z', '2026-05-18T10:00:00Z'],
      ],
      { planId: id },
    );
    const hazardsOn = async (day: string) =>
      (await todayAt(`${day}T07:00:00Z`, tutor)).sessions.find(({ title }) => title === 'Gold rims')?.hazards;
    expect(await hazardsOn('2026-05-04')).toEqual([]);
    expect(await hazardsOn('2026-05-18')).toEqual([
      expect.stringMatching(
        new RegExp(
          `^${gold.name} – Flammable, and gives off solvent vapour.*ventilate.*no flames or sparks, wear gloves`,
        ),
      ),
      'The suppliers’ safety data sheets take precedence.',
    ]);
    expect((await hazardsOn('2026-05-18'))?.[0]).toContain('Holds solvents (data sheet dated 20 January 2025).');
  });
});
