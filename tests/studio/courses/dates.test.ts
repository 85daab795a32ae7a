import { randomUUID } from 'node:crypto';
import { expect, test } from 'vitest';
import { testApp } from '../../support/app.js';
import { bookingFixture } from '../../support/fixtures/bookings.js';
import { coursesFixture } from '../../support/fixtures/courses.js';

const { owner, tutor, clock } = await testApp();
const home = await coursesFixture(owner);

test('a course by its id is what the list says of it, and says nothing of money', async () => {
  const course = await home.addCourse({ title: 'Wide bowls' });
  await bookingFixture(owner, course.id, 2);
  const seen = await tutor.get(`/api/courses/${course.id}/dates`);
  expect(seen.statusCode).toBe(200);
  expect(seen.json()).toMatchObject({ title: 'Wide bowls', places: 8, placesTaken: 2, minimum: 4, state: 'coming' });
  expect(seen.json().sessions).toHaveLength(2);
  expect(seen.body).not.toMatch(/minor/i);
  const [listed] = (await tutor.get('/api/courses?q=wide')).json().items;
  expect(seen.json()).toEqual(listed);

  await clock.set('2026-04-14T19:00:00Z');
  expect((await tutor.get(`/api/courses/${course.id}/dates`)).json()).toMatchObject({ state: 'running' });
});

test('a course that is not there says where courses are listed', async () => {
  const answer = await owner.get(`/api/courses/${randomUUID()}/dates`);
  expect(answer.statusCode).toBe(404);
  expect(answer.json().detail).toContain('page Courses');
});
