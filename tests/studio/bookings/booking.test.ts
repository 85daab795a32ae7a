import { randomUUID } from 'node:crypto';
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { openDatabase } from '../../../src/database/client.js';
import { BookingData } from '../../../src/mail/templates/booking.js';
import { buildApp } from '../../../src/server/app.js';
import { releaseHolds } from '../../../src/studio/bookings/jobs.js';
import { testApp } from '../../support/app.js';
import { bookingFixture, payFor } from '../../support/fixtures/bookings.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { personFixture } from '../../support/fixtures.js';

const { db, url, owner, tutor, clock } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
});
const book = (courseId: string, people: { id: string }[], key?: string) =>
  owner.post(
    `/api/courses/${courseId}/bookings`,
    { payerId: people[0]?.id, attendeeIds: people.map((p) => p.id) },
    key,
  );
const people = async (count: number) => {
  const made = [];
  for (let i = 0; i < count; i++) made.push(await personFixture(owner));
  return made;
};
const taken = (courseId: string) => db.place.count({ where: { booking: { courseId, cancelledAt: null } } });

describe('booking a course', () => {
  test('holds places until the deposit is paid, asks for the price in parts, and tells the payer', async () => {
    const course = await home.addCourse();
    const two = await people(2);
    const answer = await book(course.id, two);
    expect(answer.statusCode).toBe(201);
    const booking = answer.json();
    expect(booking).toMatchObject({ state: 'provisional', priceMinor: 2 * course.priceMinor, paidMinor: 0 });
    const hours = (Date.parse(booking.heldUntil) - clock.now().getTime()) / 3_600_000;
    expect(hours).toBe(course.holdHours);
    const due = await db.instalment.findMany({ where: { chargeId: booking.chargeId }, orderBy: { dueOn: 'asc' } });
    expect(due.map((i) => i.amountMinor)).toEqual([
      2 * course.depositMinor,
      2 * (course.priceMinor - course.depositMinor),
    ]);
    const notice = await db.notice.findFirstOrThrow({ where: { personId: two[0]?.id ?? '', occasion: 'booking' } });
    expect(BookingData.parse(notice.data)).toMatchObject({ course: course.title, attendees: two.map((p) => p.name) });

    await payFor(owner, booking, 2 * course.depositMinor - 1);
    expect((await owner.get(`/api/bookings/${booking.id}`)).json().state).toBe('provisional');
    await payFor(owner, booking, 1);
    expect((await owner.get(`/api/bookings/${booking.id}`)).json()).toMatchObject({
      state: 'confirmed',
      heldUntil: null,
    });
  });

  test('with the same key books once', async () => {
    const course = await home.addCourse();
    const one = await people(1);
    const key = randomUUID();
    const answers = await Promise.all(Array.from({ length: 10 }, () => book(course.id, one, key)));
    expect(new Set(answers.map((a) => a.body)).size).toBe(1);
    expect(await taken(course.id)).toBe(1);
  });

  test('refuses a course that does not exist, one that is full, one that has begun, and a person twice', async () => {
    const one = await people(1);
    expect((await book(randomUUID(), one)).json()).toMatchObject({ type: '/problems/not-found' });
    const course = await home.addCourse();
    expect((await book(course.id, [{ id: randomUUID() }])).statusCode).toBe(404);
    expect((await book(course.id, one)).statusCode).toBe(201);
    expect((await book(course.id, one)).json()).toMatchObject({ type: '/problems/already-there' });
    for (let left = course.places - 1; left > 0; left--) await bookingFixture(owner, course.id);
    expect((await book(course.id, await people(1))).json()).toMatchObject({
      type: '/problems/course-full',
      placesLeft: 0,
    });
    expect((await tutor.post(`/api/courses/${course.id}/bookings`, {})).statusCode).toBe(403);

    const later = await home.addCourse();
    await clock.set(later.sessions[0]?.startsAt ?? '');
    expect((await book(later.id, one)).json()).toMatchObject({ type: '/problems/course-over' });
    await clock.set('2026-03-10T09:00:00Z');
  });

  test('sells the last places once, whoever asks at the same time and through whichever process', async () => {
    const course = await home.addCourse();
    const guests = await people(40);
    const second = await openDatabase(url, { max: 10 });
    const app = await buildApp({ db: second.db, now: clock.now });
    const elsewhere = owner.through(app);
    const answers = await Promise.all(
      guests.map((guest, i) =>
        (i % 2 ? owner : elsewhere).post(`/api/courses/${course.id}/bookings`, {
          payerId: guest.id,
          attendeeIds: [guest.id],
        }),
      ),
    );
    await app.close();
    await second.close();
    const by = (code: number) => answers.filter((a) => a.statusCode === code).length;
    expect([by(201), by(409)]).toEqual([course.places, guests.length - course.places]);
    expect(await taken(course.id)).toBe(course.places);
  });

  test('is held back by the database as well', async () => {
    const course = await home.addCourse();
    for (let i = 0; i < course.places; i++) await bookingFixture(owner, course.id);
    const booking = await db.booking.findFirstOrThrow({ where: { courseId: course.id } });
    const [one] = await people(1);
    const place = { id: randomUUID(), bookingId: booking.id, personId: one?.id ?? '' };
    await expect(db.place.create({ data: place })).rejects.toThrow(/oversold/);
    await expect(db.course.update({ where: { id: course.id }, data: { places: course.places - 1 } })).rejects.toThrow();
  });
});

describe('a hold that ran out', () => {
  test('is released by the job, and its place is sold again', async () => {
    const course = await home.addCourse();
    const booking = await bookingFixture(owner, course.id);
    const paid = await bookingFixture(owner, course.id);
    await payFor(owner, paid, paid.depositMinor);
    await clock.set(new Date(clock.now().getTime() + (course.holdHours + 1) * 3_600_000).toISOString());
    expect(await releaseHolds(db, clock.now())).toBeGreaterThanOrEqual(1);
    expect(await releaseHolds(db, clock.now())).toBe(0);
    const after = (await owner.get(`/api/bookings/${booking.id}`)).json();
    expect(after).toMatchObject({ state: 'cancelled', cancelledBecause: 'deposit not paid in time', owedMinor: 0 });
    expect((await owner.get(`/api/bookings/${paid.id}`)).json().state).toBe('confirmed');
    expect((await payFor(owner, booking, 100)).json()).toMatchObject({ type: '/problems/nothing-owed' });
    await clock.set('2026-03-10T09:00:00Z');
  });
});

describe('cancelling', () => {
  const cancel = (id: string, body: object = {}) =>
    owner.post(`/api/bookings/${id}/cancellation`, { reason: 'Moved away', method: 'card', ...body });

  test('gives back by the tiers of the policy, with a credit note', async () => {
    const course = await home.addCourse();
    const booking = await bookingFixture(owner, course.id);
    await payFor(owner, booking, booking.depositMinor);
    const answer = (await cancel(booking.id)).json();
    expect(answer).toMatchObject({ booking: { state: 'cancelled', owedMinor: 0 } });
    expect(answer.refundMinor + answer.keptMinor).toBe(booking.depositMinor);
    const notes = await db.creditNote.count({ where: { credit: { chargeId: booking.chargeId } } });
    expect(notes).toBe(answer.refundMinor > 0 ? 1 : 0);
    expect((await cancel(booking.id)).json()).toMatchObject({ type: '/problems/already-cancelled' });
    expect(await taken(course.id)).toBe(0);
  });

  test('lets the owner decide, but not give back more than was paid', async () => {
    const course = await home.addCourse();
    const booking = await bookingFixture(owner, course.id);
    await payFor(owner, booking, 3000);
    expect((await cancel(booking.id, { refundMinor: 3001 })).json()).toMatchObject({
      type: '/problems/more-than-owed',
    });
    expect((await cancel(booking.id, { refundMinor: 1000 })).json()).toMatchObject({
      refundMinor: 1000,
      keptMinor: 2000,
    });
  });
});

describe('a course that is over', () => {
  test('turns what was paid into income, once', async () => {
    const course = await home.addCourse();
    const booking = await bookingFixture(owner, course.id);
    await payFor(owner, booking, booking.priceMinor);
    expect((await owner.post(`/api/courses/${course.id}/completion`)).json()).toMatchObject({
      type: '/problems/course-running',
    });
    await clock.set(new Date(Date.parse(course.sessions.at(-1)?.endsAt ?? '') + 60_000).toISOString());
    expect((await owner.post(`/api/courses/${course.id}/completion`)).json()).toMatchObject({ supplied: 1 });
    expect((await owner.post(`/api/courses/${course.id}/completion`)).statusCode).toBe(409);
    expect(await db.supply.count({ where: { chargeId: booking.chargeId } })).toBe(1);
    await clock.set('2026-03-10T09:00:00Z');
  });

  test('has a register that shows who comes, and no money, to a tutor', async () => {
    const course = await home.addCourse();
    const booking = await bookingFixture(owner, course.id, 2);
    const answer = await tutor.get(`/api/courses/${course.id}/register`);
    expect(answer.statusCode).toBe(200);
    expect(answer.body).toContain(booking.attendees[1]?.name);
    expect(answer.body).not.toMatch(/Minor/);
  });
});

test('taken places never exceed places, after any sequence of booking, paying, cancelling and waiting', async () => {
  const step = fc.oneof(
    fc.record({ do: fc.constant('book' as const), places: fc.integer({ min: 1, max: 4 }) }),
    fc.record({ do: fc.constantFrom('cancel' as const, 'pay' as const), which: fc.nat(9) }),
    fc.record({ do: fc.constant('wait' as const) }),
  );
  await fc.assert(
    fc.asyncProperty(fc.array(step, { minLength: 3, maxLength: 10 }), async (steps) => {
      await clock.set('2026-03-10T09:00:00Z');
      const course = await home.addCourse();
      const made: { id: string; payerId: string; chargeId: string; depositMinor: number }[] = [];
      for (const next of steps) {
        if (next.do === 'book') {
          const answer = await book(course.id, await people(next.places));
          if (answer.statusCode === 201) made.push(answer.json());
        } else if (next.do === 'wait') await clock.set(new Date(clock.now().getTime() + 49 * 3_600_000).toISOString());
        else {
          const booking = made[next.which];
          if (booking && next.do === 'cancel')
            await owner.post(`/api/bookings/${booking.id}/cancellation`, { reason: 'Ill', method: 'cash' });
          else if (booking)
            await owner.post('/api/payments', {
              personId: booking.payerId,
              method: 'cash',
              for: [{ chargeId: booking.chargeId, amountMinor: booking.depositMinor }],
            });
        }
        expect(await taken(course.id)).toBeLessThanOrEqual(course.places);
      }
    }),
    { numRuns: 6 },
  );
});
