import { beforeAll, beforeEach, expect, test } from 'vitest';
import { inTransaction } from '../../../src/database/transaction.js';
import { listPastCourses, noteEnrolments } from '../../../src/studio/pricing/queries.js';
import { testApp } from '../../support/app.js';
import { bookingFixture, payFor } from '../../support/fixtures/bookings.js';
import { coursesFixture } from '../../support/fixtures/courses.js';

// What a price learns from a course that was cancelled as a whole (decision 049).
const { db, owner, clock } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
});
beforeEach(() => clock.set('2026-03-10T09:00:00Z'));

const cancelCourse = (id: string, cause: string) =>
  owner.post(`/api/courses/${id}/cancellation`, { reason: 'It does not run', cause });
const past = async (instant: string) => listPastCourses(db, new Date(instant));
const note = (instant: string) => inTransaction(db, (tx) => noteEnrolments(tx, new Date(instant)));

test('one that too few had booked counts as it was when it was cancelled, from then on', async () => {
  const course = await home.addCourse();
  const early = await bookingFixture(owner, course.id); // cancels singly, and is no longer there
  await payFor(owner, early, 3000);
  await payFor(owner, await bookingFixture(owner, course.id, 2), 6000);
  await bookingFixture(owner, course.id); // held
  await owner.post(`/api/bookings/${early.id}/cancellation`, { reason: 'Ill', method: 'cash' });
  await clock.set('2026-03-11T09:00:00Z');
  expect((await cancelCourse(course.id, 'tooFew')).statusCode).toBe(201);
  expect(await past('2026-03-11T08:59:00Z')).toEqual([]);
  const counted = [{ planId: home.plan.id, kind: 'course', places: 8, booked: 3, courses: 1 }];
  expect(await past('2026-03-11T09:01:00Z')).toEqual(counted);
  expect(await note('2026-03-11T09:01:00Z')).toBe(1);
  expect(await past('2026-03-11T09:01:00Z')).toEqual(counted);
  expect(await past('2026-06-01T09:00:00Z')).toEqual(counted);
});

test('one that nobody had booked counts as empty, also where somebody had left it that day', async () => {
  const before = await past('2026-06-01T09:00:00Z');
  const course = await home.addCourse();
  const left = await bookingFixture(owner, course.id, 3);
  await payFor(owner, left, 9000);
  await owner.post(`/api/bookings/${left.id}/cancellation`, { reason: 'Ill', method: 'cash' });
  await clock.set('2026-03-10T15:00:00Z');
  await cancelCourse(course.id, 'tooFew');
  const after = await past('2026-06-01T09:00:00Z');
  expect(after).toEqual([{ planId: home.plan.id, kind: 'course', places: 8, booked: 0, courses: 1 }, ...before]);
});

test('one that was cancelled for something else says nothing of how many book', async () => {
  const before = await past('2026-06-01T09:00:00Z');
  const course = await home.addCourse();
  await payFor(owner, await bookingFixture(owner, course.id, 2), 6000);
  await cancelCourse(course.id, 'other');
  expect(await past('2026-06-01T09:00:00Z')).toEqual(before);
  await note('2026-06-01T09:00:00Z');
  expect(await past('2026-06-01T09:00:00Z')).toEqual(before);
  expect((await db.course.findUniqueOrThrow({ where: { id: course.id } })).enrolmentNoted).toBe(false);
});
