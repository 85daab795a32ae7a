import { beforeAll, describe, expect, test } from 'vitest';
import type { Plan } from '../../../src/studio/courses/plan-contract.js';
import { testApp } from '../../support/app.js';
import { coursesFixture, planBody } from '../../support/fixtures/courses.js';
import { made } from '../../support/fixtures.js';

const { db, owner } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
});

type Changes = { sessions?: object[]; firings?: object[]; dryingDays?: number };
const during = (purpose: string) => ({ purpose, minutes: 120, prepareMinutes: 0, clearMinutes: 0 });
const hour = (startsAt: string) => {
  const endsAt = new Date(Date.parse(startsAt) + 3_600_000).toISOString();
  return { startsAt, endsAt, roomId: home.room.id };
};

/** Asks for a course of a plan with these changes, at these times, an hour each. */
async function course(changes: Changes, ...starts: string[]) {
  const plan = await made<Plan>(owner, '/api/course-plans', { ...planBody(home), ...changes });
  const answer = await owner.post('/api/courses', {
    ...home.body,
    planId: plan.id,
    places: 2,
    minimum: 1,
    sessions: starts.map(hour),
  });
  return { status: answer.statusCode, planId: plan.id, ...answer.json() };
}

// The bisque climbs 980 °C at 100 °C an hour and holds ten minutes: 9 h 58 min. Then the kiln cools for 24 hours.
describe('a glazing session', () => {
  test('begins at the minute at which its ware is dry, fired and cool, and not one before', async () => {
    const early = await course({ dryingDays: 7 }, '2027-01-04T10:00:00Z', '2027-01-12T20:57:00Z');
    expect(early).toMatchObject({
      status: 409,
      type: '/problems/too-soon',
      session: 2,
      earliest: '2027-01-12T20:58:00.000Z',
    });
    expect(early.detail).toMatch(
      /^Session 2 \(glazing\) can't begin before Tuesday 12 January 2027, 20:58: the ware of session 1 needs 7 days of drying, 10 hours of "Bisque \d+", 24 hours of cooling first\./,
    );
    expect(await db.course.count({ where: { planId: early.planId } })).toBe(0);
    expect((await course({ dryingDays: 7 }, '2027-01-04T10:00:00Z', '2027-01-12T20:58:00Z')).status).toBe(201);
  });

  test('waits for the last session in which something was made', async () => {
    const sessions = [during('making'), during('finishing'), during('glazing')];
    const answer = await course({ sessions }, '2027-02-01T10:00:00Z', '2027-02-08T10:00:00Z', '2027-02-11T10:00:00Z');
    expect(answer).toMatchObject({ status: 409, session: 3 });
    expect(answer.detail).toContain('the ware of session 2');
  });

  test('waits for less where the plan says that the ware is dry sooner', async () => {
    expect((await course({ dryingDays: 2 }, '2027-03-01T10:00:00Z', '2027-03-05T10:00:00Z')).status).toBe(201);
    expect((await course({ dryingDays: 3 }, '2027-03-08T10:00:00Z', '2027-03-12T10:00:00Z')).status).toBe(409);
  });

  test('is free where the plan has no bisque firing, or nothing was made before', async () => {
    const firings = [{ kilnId: home.kiln.id, scheduleId: home.stoneware.id }];
    expect((await course({ firings }, '2027-04-05T10:00:00Z', '2027-04-06T10:00:00Z')).status).toBe(201);
    const sessions = [during('glazing'), during('making')];
    expect((await course({ sessions }, '2027-04-12T10:00:00Z', '2027-04-13T10:00:00Z')).status).toBe(201);
  });
});

test('a lustre session waits for the glaze firing, and for no drying', async () => {
  const sessions = [during('glazing'), during('lustre')];
  const early = await course({ sessions }, '2027-05-03T10:00:00Z', '2027-05-04T10:00:00Z');
  expect(early).toMatchObject({ status: 409, session: 2, earliest: '2027-05-04T23:10:00.000Z' }); // 12 h 10 min, and 24
  expect((await course({ sessions }, '2027-05-10T10:00:00Z', '2027-05-11T23:10:00Z')).status).toBe(201);
});
