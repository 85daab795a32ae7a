import { beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { inTransaction } from '../../../src/database/transaction.js';
import { testApp } from '../../support/app.js';
import { bookingFixture, payFor } from '../../support/fixtures/bookings.js';
import { cancellingCourses } from '../../support/fixtures/cancelled-courses.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { personFixture } from '../../support/fixtures.js';
import { faultsAfter } from '../../support/past-triggers.js';

const studio = await testApp();
const { db, url, owner, clock, tutorMember } = studio;
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
});
beforeEach(() => clock.set('2026-03-10T09:00:00Z'));
const { WISH, cancel, get, changes } = cancellingCourses(studio);

describe('at the same moment', () => {
  test('two who cancel have one effect', async () => {
    const course = await home.addCourse();
    const booking = await bookingFixture(owner, course.id);
    await payFor(owner, booking, 3000);
    const notices = await db.notice.count();
    const moved = await changes(async () => {
      const answers = await Promise.all([cancel(course.id), cancel(course.id), cancel(course.id)]);
      expect(answers.map(({ statusCode }) => statusCode).sort()).toEqual([201, 409, 409]);
    });
    expect(moved.cash).toBe(-3000);
    expect(await db.notice.count()).toBe(notices + 1);
    expect(await db.creditNote.count({ where: { credit: { chargeId: booking.chargeId } } })).toBe(1);
  });

  test('a booking or payment that comes is cancelled with the others, or refused', async () => {
    const people = [];
    for (let i = 0; i < 6; i++) people.push(await personFixture(owner));
    for (let round = 0; round < 5; round++) {
      const course = await home.addCourse();
      const held = await bookingFixture(owner, course.id);
      const other = { ...WISH, cause: 'other' };
      const [cancelled, paid, ...booked] = await Promise.all([
        cancel(course.id, other),
        payFor(owner, held, 3000),
        ...people.map(({ id }) => owner.post(`/api/courses/${course.id}/bookings`, { payerId: id, attendeeIds: [id] })),
      ]);
      expect(cancelled.statusCode, cancelled.body).toBe(201);
      const came = booked.filter(({ statusCode }) => statusCode === 201).length;
      expect(cancelled.json().totals).toMatchObject({
        people: came + 1,
        refundMinor: paid.statusCode === 201 ? 3000 : 0,
      });
      for (const answer of booked)
        if (answer.statusCode !== 201) expect(answer.json().type).toBe('/problems/course-over');
      expect(await get(held)).toMatchObject({ state: 'cancelled', paidMinor: 0, owedMinor: 0 });
    }
  });

  test('the database refuses what comes past the service', async () => {
    const course = await home.addCourse();
    const booking = await bookingFixture(owner, course.id);
    const mark = {
      cancelledAt: clock.now(),
      cancelledById: tutorMember.id,
      cancelledFor: 'other',
      cancelledBecause: 'x',
    } as const;
    await expect(db.course.update({ where: { id: course.id }, data: mark })).rejects.toThrow(/WB020/);
    await cancel(course.id);
    const back = { cancelledAt: null, cancelledBecause: null };
    await expect(db.booking.update({ where: { id: booking.id }, data: back })).rejects.toThrow(/WB020/);
    await expect(db.session.update({ where: { id: course.sessions[0]?.id ?? '' }, data: back })).rejects.toThrow(
      /WB020/,
    );
    await expect(db.course.update({ where: { id: course.id }, data: { title: 'Again' } })).rejects.toThrow(/WB020/);
    const waits = { id: booking.id, courseId: course.id, personId: booking.payerId, places: 1, since: clock.now() };
    await expect(inTransaction(db, (tx) => tx.waitingEntry.create({ data: waits }))).rejects.toThrow(/WB020/);
  });

  test('check names a cancelled course that somebody still comes to, and one that goes on without a session', async () => {
    const [cancelled, empty] = [await home.addCourse(), await home.addCourse()];
    const booking = await bookingFixture(owner, cancelled.id);
    await cancel(cancelled.id);
    const back = `UPDATE booking SET cancelled_at = NULL, cancelled_because = NULL WHERE id = '${booking.id}'`;
    expect(await faultsAfter(url, back)).toContain(`course ${cancelled.id} is cancelled, with 1 bookings`);
    const gone = `UPDATE session SET cancelled_at = now(), cancelled_because = 'x' WHERE course_id = '${empty.id}'`;
    expect(await faultsAfter(url, gone)).toContain(`course ${empty.id} goes on without a session`);
    const taught = `INSERT INTO session_tutor SELECT id, '${tutorMember.id}', starts_at, ends_at FROM session WHERE id = '${cancelled.sessions[0]?.id}'`;
    expect(await faultsAfter(url, taught)).toContain(`session ${cancelled.sessions[0]?.id} is cancelled, and`);
  });
});
