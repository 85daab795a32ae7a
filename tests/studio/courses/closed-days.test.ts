import { beforeEach, describe, expect, test } from 'vitest';
import { testApp } from '../../support/app.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { made } from '../../support/fixtures.js';

const { db, owner, tutor, clock, tutorMember } = await testApp();
const home = await coursesFixture(owner);
beforeEach(() => clock.set('2026-03-10T09:00:00Z'));

const close = (from: string, to = from, name = 'half-term') =>
  made<{ id: string }>(owner, '/api/closures', { name, from, to });
const changesOf = async (id: string) =>
  (await owner.get(`/api/courses/${id}/changes`)).json().items.map(({ what }: { what: string }) => what);

describe('closed days', () => {
  test('are noted, corrected and removed by the owner, and seen by a tutor', async () => {
    const { id } = await close('2027-02-15', '2027-02-19');
    expect((await tutor.get('/api/closures')).json().items).toContainEqual({
      ...{ id, name: 'half-term', from: '2027-02-15', to: '2027-02-19' },
    });
    const wanted = { name: 'Half-term', from: '2027-02-13', to: '2027-02-21' };
    expect((await owner.put(`/api/closures/${id}`, wanted)).json()).toEqual({ id, ...wanted });
    expect((await tutor.post('/api/closures', wanted)).statusCode).toBe(403);
    expect((await owner.post(`/api/closures/${id}/removal`)).statusCode).toBe(200);
    expect((await owner.get(`/api/closures/${id}`)).statusCode).toBe(404);
  });

  test.each([
    ['2027-02-19', '2027-02-15', 'must not be before the first day'],
    ['2027-01-01', '2028-01-02', 'must be at most 365 days after the first'],
    ['1999-12-31', '2000-01-01', 'must be between 2000 and 2099'],
  ])('from %s to %s are refused: %s', async (from, to, detail) => {
    const answer = await owner.post('/api/closures', { name: 'Long', from, to });
    expect(answer.statusCode).toBe(422);
    expect(answer.json().errors[0].detail).toBe(detail);
  });
});

describe('a session', () => {
  const day = (on: string, rest: object = {}) => ({
    ...{ startsAt: `${on}T19:00:00+01:00`, endsAt: `${on}T21:00:00+01:00`, roomId: home.room.id, ...rest },
  });

  test('is not put on a closed day, unless the owner says so; in the database neither', async () => {
    await close('2026-06-02', '2026-06-05');
    const sessions = [day('2026-06-02'), day('2026-06-23')];
    const refused = await owner.post('/api/courses', { ...home.body, sessions });
    expect(refused.json().type).toBe('/problems/closed-day');
    expect(refused.json().detail).toBe(
      'The studio is closed on Tuesday 2 June 2026 (half-term). Choose another day, or say that the session takes place all the same.',
    );
    const [first, second] = sessions;
    const wanted = { ...home.body, sessions: [{ ...first, onClosedDay: true }, second] };
    const course = await made<{ id: string; sessions: { id: string }[] }>(owner, '/api/courses', wanted);
    const startsAt = new Date('2026-06-05T20:00:00Z');
    const endsAt = new Date('2026-06-05T21:00:00Z');
    const id = course.sessions[1]?.id ?? '';
    await expect(db.session.update({ where: { id }, data: { startsAt, endsAt } })).rejects.toThrow(/WB024/);
    // 23:30 UTC is the next day in a London summer, on which the studio is open
    const late = { startsAt: new Date('2026-06-05T23:30:00Z'), endsAt: new Date('2026-06-06T00:30:00Z') };
    await db.session.update({ where: { id }, data: late });
  });

  test('is moved onto one by a named act alone, which the history keeps', async () => {
    const course = await home.addCourse();
    await close('2026-04-15', '2026-04-17', 'Easter');
    const [session] = course.sessions;
    const wanted = { day: '2026-04-16', from: '19:00', until: '21:30', roomId: session?.roomId, tutorIds: [] };
    const address = `/api/sessions/${session?.id}/moves`;
    const refused = await owner.post(address, wanted);
    expect([refused.statusCode, refused.json().type]).toEqual([409, '/problems/closed-day']);
    expect((await owner.post(`${address}/preview`, wanted)).json().type).toBe('/problems/closed-day');
    expect((await owner.post(address, { ...wanted, onClosedDay: true })).statusCode).toBe(201);
    expect(await changesOf(course.id)).toEqual([
      expect.stringContaining('Session 1 is now on Thursday 16 April 2026'),
      'Session 1 takes place though the studio is closed that day (Easter).',
    ]);
    const back = { ...wanted, day: '2026-04-14', onClosedDay: true };
    expect((await owner.post(address, back)).statusCode).toBe(201); // an open day: nothing is said of closed ones
    expect(await changesOf(course.id)).toHaveLength(3);
  });

  test('is added on one in the same way', async () => {
    const course = await home.addCourse();
    await close('2026-04-28', '2026-04-28', 'wiring');
    const room = course.sessions[0]?.roomId;
    const wanted = { day: '2026-04-28', from: '10:00', until: '12:00', roomId: room, tutorIds: [], purpose: 'making' };
    const address = `/api/courses/${course.id}/sessions`;
    expect((await owner.post(address, wanted)).json().type).toBe('/problems/closed-day');
    expect((await owner.post(address, { ...wanted, onClosedDay: true })).statusCode).toBe(201);
    expect((await changesOf(course.id)).at(-1)).toBe(
      'Session 2 takes place though the studio is closed that day (wiring).',
    );
  });

  test('that was there before a day was closed stays, and takes another tutor or more places', async () => {
    const course = await home.addCourse();
    await close('2026-05-05', '2026-05-05', 'holiday');
    const [, session] = course.sessions;
    const wanted = { day: '2026-05-05', from: '19:00', until: '21:00', roomId: session?.roomId };
    const address = `/api/sessions/${session?.id}/moves`;
    expect((await owner.post(address, { ...wanted, tutorIds: [tutorMember.id] })).statusCode).toBe(201);
    const more = { title: 'Two mugs', places: 10, minimum: 4, decideOn: null, note: null };
    expect((await owner.put(`/api/courses/${course.id}/particulars`, more)).statusCode).toBe(200);
  });
});
