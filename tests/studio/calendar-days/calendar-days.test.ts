import { beforeEach, describe, expect, test } from 'vitest';
import { testApp } from '../../support/app.js';
import { bookingFixture } from '../../support/fixtures/bookings.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { firedFixture, firingFixture, step } from '../../support/fixtures/firings.js';
import { statementsOf } from '../../support/statements.js';

const { owner, tutor, clock, tutorMember } = await testApp();
const home = await coursesFixture(owner);
beforeEach(() => clock.set('2026-03-08T09:00:00Z'));

const days = (from: string, to: string) => `/api/calendar-days?from=${from}&to=${to}`;
const titled = ({ title }: { title: string }) => title;

describe('the calendar', () => {
  test('has the sessions of its days with room, tutors and places left, and none of others', async () => {
    const course = await home.addCourse({ title: 'Bowls' });
    await bookingFixture(owner, course.id, 3);
    const [first] = course.sessions;
    await owner.post(`/api/sessions/${first?.id}/moves`, {
      ...{ day: '2026-04-14', from: '19:00', until: '21:30', roomId: first?.roomId, tutorIds: [tutorMember.id] },
    });
    const answer = await tutor.get(days('2026-04-01', '2026-04-30'));
    expect(answer.statusCode).toBe(200);
    expect(answer.json()).toEqual({
      ...{ from: '2026-04-01', to: '2026-04-30', firings: [], closures: [] },
      sessions: [
        {
          ...{ id: first?.id, courseId: course.id, title: 'Bowls', kind: 'course', ordinal: 1, of: 2 },
          ...{ startsAt: '2026-04-14T18:00:00.000Z', endsAt: '2026-04-14T20:30:00.000Z', roomName: first?.roomName },
          ...{ tutors: ['Test tutor'], cancelledBecause: null, places: 8, placesTaken: 3, placesMadeUp: 0 },
        },
      ],
    });
    expect((await owner.get(days('2026-04-15', '2026-05-04'))).json().sessions).toEqual([]);
    expect((await owner.get(days('2026-05-05', '2026-05-05'))).json().sessions.map(titled)).toEqual(['Bowls']);
  });

  test('counts days by the clock of the studio, also on the night of a clock change', async () => {
    const late = { startsAt: '2026-03-29T22:15:00Z', endsAt: '2026-03-29T22:50:00Z', roomId: home.room.id }; // 23:15 to 23:50
    const next = { startsAt: '2026-05-05T18:00:00Z', endsAt: '2026-05-05T19:00:00Z', roomId: home.room.id };
    await home.addCourse({ title: 'Late', sessions: [late, next] });
    expect((await owner.get(days('2026-03-29', '2026-03-29'))).json().sessions.map(titled)).toEqual(['Late']);
    expect((await owner.get(days('2026-03-30', '2026-03-30'))).json().sessions).toEqual([]);
  });

  test('keeps a session that was cancelled, and says why', async () => {
    const course = await home.addCourse({ title: 'Jars' });
    await owner.post(`/api/sessions/${course.sessions[1]?.id}/cancellation`, { reason: 'Mara is ill.' });
    const { sessions } = (await owner.get(days('2026-05-01', '2026-05-31'))).json();
    const found = sessions.find(({ id }: { id: string }) => id === course.sessions[1]?.id);
    expect(found).toMatchObject({ cancelledBecause: 'Mara is ill.', of: 1 });
  });

  test('begins today and has 31 days, unless it is asked for others; 62 at most', async () => {
    expect((await owner.get('/api/calendar-days')).json()).toMatchObject({ from: '2026-03-08', to: '2026-04-07' });
    expect((await owner.get(days('2026-07-01', '2026-08-31'))).statusCode).toBe(200);
    const long = await owner.get(days('2026-07-01', '2026-09-01'));
    expect([long.statusCode, long.json().detail]).toEqual([422, 'These are 63 days. Ask for 62 at most.']);
    expect((await owner.get(days('2026-07-02', '2026-07-01'))).json().errors[0]).toEqual({
      pointer: '#/querystring/to',
      detail: 'must not be before the first day',
    });
  });

  test('asks the database as often for a year’s courses as for one', async () => {
    const asked = async () => (await statementsOf(() => owner.get(days('2026-04-01', '2026-05-31')))).length;
    const before = await asked();
    for (const title of ['One', 'Two', 'Three']) await home.addCourse({ title });
    expect(await asked()).toBe(before);
  });
});

test('closed days are in it as far as one of its days is one', async () => {
  const wanted = { name: 'Easter', from: '2026-04-03', to: '2026-04-06' };
  const { id } = (await owner.post('/api/closures', wanted)).json();
  const closures = async (from: string, to: string) => (await tutor.get(days(from, to))).json().closures;
  expect(await closures('2026-04-06', '2026-04-30')).toEqual([{ id, ...wanted }]);
  expect(await closures('2026-03-01', '2026-04-02')).toEqual([]);
});

describe('the kilns in it', () => {
  const kiln = { kilnId: home.kiln.id, scheduleId: home.bisque.id };
  const firingsOn = async (from: string, to = from) => (await tutor.get(days(from, to))).json().firings;

  test('are taken as planned, cool for their usual hours, and then as it really went', async () => {
    const { id } = await firingFixture(owner, kiln);
    expect(await firingsOn('2026-03-08')).toEqual([
      {
        ...{
          id,
          number: 1,
          kilnName: expect.stringMatching(/^Kiln /),
          kind: 'bisque',
          state: 'planned',
          isLate: false,
        },
        ...{ from: '2026-03-08T20:00:00.000Z', coolsFrom: '2026-03-08T20:00:00.000Z', to: '2026-03-09T20:00:00.000Z' },
      },
    ]);
    expect(await firingsOn('2026-03-07')).toEqual([]);
    expect(await firingsOn('2026-03-10')).toEqual([]);
    await clock.set('2026-03-10T09:00:00Z');
    await firedFixture(owner, id, []);
    const [fired] = await firingsOn('2026-03-09');
    expect(fired).toMatchObject({ state: 'unloaded', coolsFrom: '2026-03-09T08:00:00.000Z', isLate: false });
  });

  test('are taken until now by a firing that should be unloaded', async () => {
    const { id } = await firingFixture(owner, kiln, {
      plannedFrom: '2026-03-12T20:00:00Z',
      plannedTo: '2026-03-13T20:00:00Z',
    });
    await clock.set('2026-03-12T21:00:00Z');
    await step(owner, id, 'loading', { placements: [] });
    await step(owner, id, 'start', { startedAt: '2026-03-12T20:30:00Z' });
    expect(await firingsOn('2026-03-13')).toMatchObject([{ isLate: false, to: '2026-03-13T20:30:00.000Z' }]);
    await clock.set('2026-03-16T07:00:00Z');
    expect(await firingsOn('2026-03-15')).toMatchObject([
      { id, state: 'firing', isLate: true, from: '2026-03-12T20:30:00.000Z', to: '2026-03-16T07:00:00.000Z' },
    ]);
    expect(await firingsOn('2026-03-17')).toEqual([]);
  });
});
