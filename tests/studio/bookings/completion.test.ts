import { randomUUID } from 'node:crypto';
import { afterEach, beforeAll, describe, expect, test } from 'vitest';
import { testApp } from '../../support/app.js';
import { bookingFixture, payFor } from '../../support/fixtures/bookings.js';
import { coursesFixture } from '../../support/fixtures/courses.js';

const { db, owner, tutor, tutorMember, clock } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
});
afterEach(() => clock.set('2026-03-10T09:00:00Z'));

const OVER = '2026-05-05T20:00:00Z';
const complete = (courseId: string, key?: string) => owner.post(`/api/courses/${courseId}/completion`, {}, key);
const balance = async (code: string) => {
  const { items } = (await owner.get('/api/account-balances')).json();
  return items.find((account: { code: string }) => account.code === code).balanceMinor;
};

describe('completing a course', () => {
  test('turns what was billed in advance into income: of all bookings but the cancelled ones, paid or not', async () => {
    const course = await home.addCourse();
    const [paid, deposit, cancelled] = [
      await bookingFixture(owner, course.id),
      await bookingFixture(owner, course.id),
      await bookingFixture(owner, course.id),
    ];
    await payFor(owner, paid, 12_000);
    await payFor(owner, deposit, 3000);
    await owner.post(`/api/bookings/${cancelled.id}/cancellation`, { reason: 'Ill' });
    const before = await balance('course-income');
    await clock.set(OVER);
    const answer = await complete(course.id);
    expect(answer.statusCode).toBe(201);
    expect(answer.json()).toEqual({ courseId: course.id, completedOn: '2026-05-05', supplied: 2 });
    // two places at 120.00, each with 20.00 of VAT at 20 % inside
    expect((await balance('course-income')) - before).toBe(-20_000);
    expect((await owner.get(`/api/bookings/${deposit.id}`)).json()).toMatchObject({
      state: 'confirmed',
      owedMinor: 9000,
    });
    expect((await owner.get(`/api/courses/${course.id}`)).json()).toMatchObject({ completedOn: '2026-05-05' });
  });

  test('waits for the end of the last session', async () => {
    const course = await home.addCourse();
    await clock.set('2026-05-05T19:59:59Z');
    expect((await complete(course.id)).json()).toMatchObject({ type: '/problems/course-running', status: 409 });
    expect(await db.course.count({ where: { id: course.id, completedOn: { not: null } } })).toBe(0);
  });

  test('happens once, however often it is sent and at once', async () => {
    const course = await home.addCourse();
    const { chargeId } = await bookingFixture(owner, course.id);
    await clock.set(OVER);
    const key = randomUUID();
    const same = await Promise.all([1, 2, 3].map(() => complete(course.id, key)));
    expect(new Set(same.map(({ body }) => body)).size).toBe(1);
    const others = await Promise.all([1, 2, 3].map(() => complete(course.id)));
    expect(others.map((answer) => answer.json().type)).toEqual(Array(3).fill('/problems/course-over'));
    expect(await db.supply.count({ where: { chargeId } })).toBe(1);
  });

  test('ends booking and cancelling', async () => {
    const course = await home.addCourse();
    const booking = await bookingFixture(owner, course.id);
    await clock.set(OVER);
    await complete(course.id);
    const late = await owner.post(`/api/bookings/${booking.id}/cancellation`, { reason: 'Unhappy' });
    expect(late.json()).toMatchObject({ type: '/problems/course-over' });
    await expect(bookingFixture(owner, course.id)).rejects.toThrow('course-over');
    expect((await complete(randomUUID())).json()).toMatchObject({ type: '/problems/not-found' });
  });
});

describe('the register', () => {
  test('shows a tutor when, where and who, by name, and no money', async () => {
    const sessions = home.body.sessions.map((session) => ({ ...session, tutorIds: [tutorMember.id] }));
    const course = await home.addCourse({ sessions });
    const booking = await bookingFixture(owner, course.id, 2);
    const gone = await bookingFixture(owner, course.id);
    await owner.post(`/api/bookings/${gone.id}/cancellation`, { reason: 'Ill' });
    const answer = await tutor.get(`/api/courses/${course.id}/register`);
    expect(answer.statusCode).toBe(200);
    const { people, ...rest } = answer.json();
    expect(rest).toEqual({
      courseId: course.id,
      title: 'Two mugs',
      attendance: [],
      sessions: course.sessions,
      hazards: [],
      makeUps: [],
      children: [],
      groups: [],
    });
    expect(people).toEqual(
      [...booking.attendees]
        .sort((a, b) => (a.name < b.name ? -1 : 1))
        .map(({ personId, name }) => ({ personId, name, bookedBy: booking.payerName, bookingId: booking.id })),
    );
    expect(answer.body).not.toMatch(/minor|paid|price|deposit/i);
  });
});
