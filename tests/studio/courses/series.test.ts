import { beforeAll, beforeEach, describe, expect, test } from 'vitest';
import type { Plan } from '../../../src/studio/courses/plan-contract.js';
import { testApp } from '../../support/app.js';
import { coursesFixture, planBody } from '../../support/fixtures/courses.js';
import { made } from '../../support/fixtures.js';
import { statementsOf } from '../../support/statements.js';

const { db, owner, tutor, clock, tutorMember } = await testApp();
const home = await coursesFixture(owner);
let bench: Plan;
beforeAll(async () => {
  const sessions = [{ purpose: 'making', minutes: 120, prepareMinutes: 0, clearMinutes: 0 }];
  const making = { ...planBody(home), sessions, kind: 'openStudio', minimum: 0, pieces: [], firings: [] };
  bench = await made<Plan>(owner, '/api/course-plans', { ...making, name: 'Open bench' });
});
beforeEach(() => clock.set('2026-03-10T09:00:00Z'));

const visit = (day: string, rest: object = {}) => ({
  ...{ startsAt: `${day}T10:00:00Z`, endsAt: `${day}T12:00:00Z`, roomId: home.room.id, ...rest },
});
const course = (day: string, rest: object = {}) => ({
  ...{ ...home.body, planId: bench.id, title: 'Open bench', minimum: 0, sessions: [visit(day, rest)] },
});

describe('several courses of a plan', () => {
  test('are put into the calendar at once', async () => {
    const days = ['2026-07-04', '2026-07-11', '2026-07-18'];
    const answer = await owner.post('/api/course-series', { courses: days.map((day) => course(day)) });
    expect(answer.statusCode).toBe(201);
    const { items } = answer.json();
    expect(
      items.map(({ sessions }: { sessions: { startsAt: string }[] }) => sessions[0]?.startsAt.slice(0, 10)),
    ).toEqual(days);
    expect((await tutor.post('/api/course-series', { courses: [] })).statusCode).toBe(403);
  });

  test('are not put there at all where one of them can’t be', async () => {
    await owner.post('/api/closures', { name: 'half-term', from: '2026-08-08', to: '2026-08-08' });
    const before = await db.course.count();
    const days = ['2026-08-01', '2026-08-08', '2026-08-15'];
    const answer = await owner.post('/api/course-series', { courses: days.map((day) => course(day)) });
    expect(answer.json().type).toBe('/problems/closed-day');
    expect(await db.course.count()).toBe(before);
    const open = days.map((day) => course(day, { onClosedDay: day === '2026-08-08' }));
    expect((await owner.post('/api/course-series', { courses: open })).statusCode).toBe(201);
  });
});

describe('what is in the way of sessions', () => {
  const check = async (body: object) => {
    const answer = await owner.post('/api/session-checks', body);
    expect(answer.statusCode).toBe(200);
    return answer
      .json()
      .sessions.map(({ conflicts }: { conflicts: { type: string }[] }) =>
        conflicts.map(({ type }) => type.replace('/problems/', '')),
      );
  };

  test('is named date by date: a closed day, a tutor, a room, ware that is not ready', async () => {
    await owner.post('/api/closures', { name: 'wiring', from: '2026-09-01', to: '2026-09-02' });
    const tutorIds = [tutorMember.id];
    await owner.post('/api/courses', course('2026-09-08', { tutorIds }));
    const sessions = ['2026-09-01', '2026-09-08', '2026-09-15'].map((day) => visit(day, { tutorIds }));
    expect(await check({ planId: bench.id, places: 8, sessions })).toEqual([
      ['closed-day'],
      ['tutor-busy', 'room-full'],
      [],
    ]);
    const mugs = [visit('2026-10-06'), visit('2026-10-08')];
    expect(await check({ planId: home.plan.id, places: 8, sessions: mugs })).toEqual([[], ['too-soon']]);
    expect(await check({ planId: home.plan.id, places: 200, sessions: mugs })).toEqual([
      ['room-full'],
      ['room-full', 'too-soon'],
    ]);
  });

  test('is asked of the database as often for many as for one', async () => {
    const of = (days: string[]) => ({ planId: bench.id, places: 8, sessions: days.map((day) => visit(day)) });
    const asked = async (days: string[]) =>
      (await statementsOf(() => owner.post('/api/session-checks', of(days)))).length;
    const one = await asked(['2026-11-02']);
    expect(await asked(['2026-11-02', '2026-11-03', '2026-11-04', '2026-11-05'])).toBe(one);
  });

  test('names a room or a tutor that is not there', async () => {
    const sessions = [visit('2026-11-02', { roomId: bench.id })];
    expect((await owner.post('/api/session-checks', { planId: bench.id, places: 8, sessions })).statusCode).toBe(404);
  });
});
