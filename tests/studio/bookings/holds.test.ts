import { afterEach, beforeAll, describe, expect, test } from 'vitest';
import { inTransaction } from '../../../src/database/transaction.js';
import type { Booking } from '../../../src/studio/bookings/contract.js';
import { releaseExpired } from '../../../src/studio/bookings/holds.js';
import { bookingCron, bookingTasks, releaseHolds } from '../../../src/studio/bookings/jobs.js';
import { testApp } from '../../support/app.js';
import { bookingFixture, payFor } from '../../support/fixtures/bookings.js';
import { coursesFixture } from '../../support/fixtures/courses.js';

const { db, owner, tutor, clock } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
});
afterEach(() => clock.set('2026-03-10T09:00:00Z'));

const RUN_OUT = '2026-03-12T09:00:00Z'; // 48 hours after a booking at the pinned moment
const A_MOMENT_BEFORE = '2026-03-12T08:59:59.999Z';
const stateOf = async ({ id }: Booking) => (await owner.get(`/api/bookings/${id}`)).json().state;
const registered = async (courseId: string) =>
  (await tutor.get(`/api/courses/${courseId}/register`)).json().people.length;
const release = (courseId: string) => inTransaction(db, (tx) => releaseExpired(tx, clock.now(), courseId));

describe('a hold without its deposit', () => {
  test('stands until its last moment, and is released from then on: nothing is asked, nothing goes back', async () => {
    const course = await home.addCourse();
    const booking = await bookingFixture(owner, course.id, 2);
    await clock.set(A_MOMENT_BEFORE);
    expect(await release(course.id)).toBe(0);
    await clock.set(RUN_OUT);
    expect(await release(course.id)).toBe(1);
    expect(await release(course.id)).toBe(0);
    expect((await owner.get(`/api/bookings/${booking.id}`)).json()).toMatchObject({
      state: 'cancelled',
      cancelledAt: '2026-03-12T09:00:00.000Z',
      cancelledBecause: 'deposit not paid in time',
      heldUntil: null,
      paidMinor: 0,
      owedMinor: 0,
    });
    expect(await db.payment.count({ where: { personId: booking.payerId } })).toBe(0);
    expect((await payFor(owner, booking, 6000)).json()).toMatchObject({ type: '/problems/nothing-owed' });
    expect(await stateOf(booking)).toBe('cancelled');
  });

  test('is no longer expected once it has run out, whether it was released yet or not', async () => {
    const course = await home.addCourse();
    await bookingFixture(owner, course.id, 3);
    expect(await registered(course.id)).toBe(3);
    await clock.set(RUN_OUT);
    expect(await registered(course.id)).toBe(0);
  });

  test('gives its place to the next booking, even before the job comes round', async () => {
    const course = await home.addCourse({ places: 1, minimum: 1 });
    const late = await bookingFixture(owner, course.id);
    await expect(bookingFixture(owner, course.id)).rejects.toThrow('course-full');
    await clock.set(RUN_OUT);
    expect(await bookingFixture(owner, course.id)).toMatchObject({ state: 'provisional' });
    expect(await stateOf(late)).toBe('cancelled');
  });
});

describe('a hold that stays', () => {
  test('because its deposit is paid, was never asked, or has come while nobody had released it', async () => {
    const course = await home.addCourse();
    const free = await home.addCourse({ depositMinor: 0 });
    const [paid, late, unasked] = [
      await bookingFixture(owner, course.id),
      await bookingFixture(owner, course.id),
      await bookingFixture(owner, free.id),
    ];
    await payFor(owner, paid, 3000);
    await clock.set(RUN_OUT);
    await payFor(owner, late, 3000);
    expect([await release(course.id), await release(free.id)]).toEqual([0, 0]);
    for (const booking of [paid, late, unasked]) expect(await stateOf(booking)).toBe('confirmed');
  });

  test('because part of its deposit is paid: a job can’t hand money back, so the owner decides', async () => {
    const course = await home.addCourse();
    const booking = await bookingFixture(owner, course.id);
    await payFor(owner, booking, 2999);
    await clock.set(RUN_OUT);
    expect(await release(course.id)).toBe(0);
    expect(await stateOf(booking)).toBe('provisional');
    expect(await registered(course.id)).toBe(1);
  });

  test('because the course has begun: no place can be sold any more, and who came still owes', async () => {
    const course = await home.addCourse({ holdHours: 720 });
    await clock.set('2026-04-14T17:00:00Z');
    const booking = await bookingFixture(owner, course.id);
    await clock.set('2026-05-20T09:00:00Z');
    expect(await release(course.id)).toBe(0);
    expect(await stateOf(booking)).toBe('provisional');
    expect(await registered(course.id)).toBe(1);
  });
});

describe('the job', () => {
  test('releases what has run out on every course, and nothing else', async () => {
    const [one, two] = [await home.addCourse(), await home.addCourse()];
    const late = [
      await bookingFixture(owner, one.id),
      await bookingFixture(owner, one.id),
      await bookingFixture(owner, two.id),
    ];
    await clock.set(A_MOMENT_BEFORE);
    const later = await bookingFixture(owner, two.id);
    await clock.set(RUN_OUT);
    await bookingTasks(db, clock.now)['release-holds']();
    for (const booking of late) expect(await stateOf(booking)).toBe('cancelled');
    expect(await stateOf(later)).toBe('provisional');
  });

  test('may run twice at once', async () => {
    const course = await home.addCourse();
    for (let i = 0; i < 4; i++) await bookingFixture(owner, course.id);
    await clock.set(RUN_OUT);
    const released = await Promise.all([1, 2, 3].map(() => releaseHolds(db, clock.now())));
    expect(released.reduce((sum, n) => sum + n, 0)).toBe(4);
    expect(await db.credit.count({ where: { charge: { booking: { courseId: course.id } } } })).toBe(4);
  });

  test('stands in the crontab under the name of its task', () => {
    expect(bookingCron.map(({ task }) => task)).toEqual(Object.keys(bookingTasks(db, clock.now)));
  });
});
