import { randomUUID } from 'node:crypto';
import { beforeAll, describe, expect, test } from 'vitest';
import { openDatabase } from '../../../src/database/client.js';
import { sqlState } from '../../../src/database/sqlstate.js';
import { type Database, inTransaction } from '../../../src/database/transaction.js';
import { Problem } from '../../../src/problems.js';
import { bookPlaces } from '../../../src/studio/bookings/service.js';
import { testApp } from '../../support/app.js';
import { bookingFixture, manyPeople, payFor } from '../../support/fixtures/bookings.js';
import { coursesFixture } from '../../support/fixtures/courses.js';

// Every test here hammers one row: spread over many courses even the wrong version sells no place twice.
const { db, url, owner, clock } = await testApp();
const GUESTS = 60;
let home: Awaited<ReturnType<typeof coursesFixture>>;
let guests: string[];
beforeAll(async () => {
  home = await coursesFixture(owner);
  guests = await manyPeople(db, GUESTS);
});

const taken = (courseId: string) => db.place.count({ where: { booking: { courseId, cancelledAt: null } } });
const state = async (id: string) => (await owner.get(`/api/bookings/${id}`)).json().state;

/** Two database clients of their own, as two processes have them. */
async function throughTwo<T>(work: (clients: [Database, Database]) => Promise<T>): Promise<T> {
  const opened = [await openDatabase(url), await openDatabase(url)] as const;
  try {
    return await work([opened[0].db, opened[1].db]);
  } finally {
    await Promise.all(opened.map(({ close }) => close()));
  }
}

describe('the last places', () => {
  test('are sold once over the API, and each refusal is our own', async () => {
    const course = await home.addCourse();
    const answers = await Promise.all(
      guests.map((id) => owner.post(`/api/courses/${course.id}/bookings`, { payerId: id, attendeeIds: [id] })),
    );
    const refused = answers.filter(({ statusCode }) => statusCode === 409).map((answer) => answer.json());
    expect(answers.filter(({ statusCode }) => statusCode === 201)).toHaveLength(8);
    // only a count made under the lock knows what is left: without the lock it is the database that refuses, and says less
    expect(
      refused.filter((problem) => problem.type === '/problems/course-full' && problem.placesLeft === 0),
    ).toHaveLength(GUESTS - 8);
    expect(await taken(course.id)).toBe(8);
    expect(await db.charge.count({ where: { booking: { courseId: course.id } } })).toBe(8);
  });

  test('are sold once through two clients, two places at a time', async () => {
    const { id: courseId } = await home.addCourse({ places: 9 });
    const outcomes = await throughTwo((clients) =>
      Promise.allSettled(
        Array.from({ length: GUESTS / 2 }, (_, i) => {
          const attendeeIds = guests.slice(2 * i, 2 * i + 2);
          const wanted = { payerId: attendeeIds[0] ?? '', attendeeIds };
          return inTransaction(clients[i % 2 ? 0 : 1], (tx) => bookPlaces(tx, clock.now(), courseId, wanted));
        }),
      ),
    );
    const refusals = outcomes.flatMap((outcome) => (outcome.status === 'rejected' ? [outcome.reason] : []));
    expect(outcomes.length - refusals.length).toBe(4);
    for (const refusal of refusals) {
      expect(refusal).toBeInstanceOf(Problem);
      expect(refusal).toMatchObject({ type: 'course-full', more: { placesLeft: 1 } });
    }
    expect(await taken(courseId)).toBe(8);
  });
});

describe('the database by itself', () => {
  const codes = (outcomes: PromiseSettledResult<unknown>[]) =>
    outcomes.flatMap((outcome) => (outcome.status === 'rejected' ? [sqlState(outcome.reason)] : []));

  test('lets nobody write one place too many, by whatever road', async () => {
    const course = await home.addCourse();
    const { id: bookingId } = await bookingFixture(owner, course.id);
    const outcomes = await throughTwo((clients) =>
      Promise.allSettled(
        guests.map((personId, i) =>
          clients[i % 2 ? 0 : 1].place.create({ data: { id: randomUUID(), bookingId, personId } }),
        ),
      ),
    );
    expect(new Set(codes(outcomes))).toEqual(new Set(['WB002']));
    expect(codes(outcomes)).toHaveLength(GUESTS - 7);
    expect(await taken(course.id)).toBe(8);
  });

  test('lets nobody move or revive a booking into a full course, nor take places away from under it', async () => {
    const [course, other] = [await home.addCourse({ places: 4 }), await home.addCourse()];
    const bookings: { id: string }[] = [];
    for (let i = 0; i < 6; i++) bookings.push(await bookingFixture(owner, other.id));
    const outcomes = await throughTwo((clients) =>
      Promise.allSettled(
        bookings.map(({ id }, i) =>
          clients[i % 2 ? 0 : 1].booking.update({ where: { id }, data: { courseId: course.id } }),
        ),
      ),
    );
    expect(codes(outcomes)).toEqual(['WB002', 'WB002']);
    expect(await taken(course.id)).toBe(4);
    const fewer = db.course.update({ where: { id: course.id }, data: { places: 3, minimum: 1 } });
    expect(codes(await Promise.allSettled([fewer]))).toEqual(['WB002']);
  });
});

describe('one booking', () => {
  test('that is cancelled many times at once is cancelled once, and pays back once', async () => {
    const course = await home.addCourse();
    const booking = await bookingFixture(owner, course.id);
    await payFor(owner, booking, 3000);
    const answers = await Promise.all(
      Array.from({ length: 12 }, () =>
        owner.post(`/api/bookings/${booking.id}/cancellation`, { reason: 'Ill', method: 'cash' }),
      ),
    );
    expect(answers.filter(({ statusCode }) => statusCode === 201)).toHaveLength(1);
    const refused = answers.filter(({ statusCode }) => statusCode !== 201).map((answer) => answer.json().type);
    expect(new Set(refused)).toEqual(new Set(['/problems/already-cancelled']));
    expect(await db.credit.count({ where: { chargeId: booking.chargeId } })).toBe(1);
  });

  test('whose hold runs out while its deposit arrives is either confirmed or released, never both', async () => {
    const course = await home.addCourse();
    const late = [];
    for (let i = 0; i < 8; i++) late.push(await bookingFixture(owner, course.id));
    await clock.set('2026-03-12T09:00:00Z');
    // each new booking releases what has run out before it counts, at the moment at which the deposits come
    const [payments, bookings] = await Promise.all([
      Promise.all(late.map((booking) => payFor(owner, booking, 3000))),
      Promise.all(
        guests
          .slice(0, 8)
          .map((id) => owner.post(`/api/courses/${course.id}/bookings`, { payerId: id, attendeeIds: [id] })),
      ),
    ]);
    const paid = payments.filter(({ statusCode }) => statusCode === 201).length;
    for (const [i, payment] of payments.entries())
      expect(await state(late[i]?.id ?? '')).toBe(payment.statusCode === 201 ? 'confirmed' : 'cancelled');
    expect(payments.filter(({ statusCode }) => statusCode >= 500)).toEqual([]);
    const booked = bookings.filter(({ statusCode }) => statusCode === 201).length;
    expect(paid + booked).toBe(8);
    expect(await taken(course.id)).toBe(8);
    await clock.set('2026-03-10T09:00:00Z');
  });
});
