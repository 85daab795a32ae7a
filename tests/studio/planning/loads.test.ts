import { expect, test } from 'vitest';
import type { Plan } from '../../../src/studio/courses/plan-contract.js';
import type { KilnLoads } from '../../../src/studio/planning/loads-contract.js';
import { testApp } from '../../support/app.js';
import { coursesFixture, planBody } from '../../support/fixtures/courses.js';
import { made } from '../../support/fixtures.js';

const { owner, tutor } = await testApp();
const home = await coursesFixture(owner);
const during = (purpose: string) => ({ purpose, minutes: 120, prepareMinutes: 0, clearMinutes: 0 });
const hour = (startsAt: string) => ({
  startsAt,
  endsAt: new Date(Date.parse(startsAt) + 3_600_000).toISOString(),
  roomId: home.room.id,
});

test('a course causes each firing of its plan, between the session that makes its ware and the one that needs it', async () => {
  const sessions = [during('making'), during('making'), during('glazing')];
  const plan = await made<Plan>(owner, '/api/course-plans', { ...planBody(home), sessions, dryingDays: 7 });
  const starts = ['2027-01-04T10:00:00Z', '2027-01-11T10:00:00Z', '2027-01-25T10:00:00Z'];
  const body = { ...home.body, planId: plan.id, places: 6, minimum: 1, sessions: starts.map(hour) };
  const course = await made(owner, '/api/courses', body);
  const found: KilnLoads = (await owner.get(`/api/courses/${course.id}/kiln-loads`)).json();
  const [bisque, glaze] = found.loads;
  // made until 11 January, 11:00, dried for a week; 9 h 58 min of firing and 24 h of cooling leave six days until the 25th
  expect(bisque).toMatchObject({
    from: '2027-01-18T11:00:00.000Z',
    outBy: '2027-01-25T10:00:00.000Z',
    spareHours: 133,
  });
  expect(glaze).toMatchObject({ from: '2027-01-25T11:00:00.000Z', outBy: null, spareHours: null });
  expect(Number(bisque?.perStudent)).toBeGreaterThan(0);
  expect(Number(bisque?.ifFull)).toBeCloseTo(6 * Number(bisque?.perStudent), 9);
  expect(found.places).toBe(6);
  expect((await owner.get('/api/courses/0190b7d4-0000-7000-8000-000000000000/kiln-loads')).statusCode).toBe(404);
  expect((await tutor.get(`/api/courses/${course.id}/kiln-loads`)).statusCode).toBe(403);
});
