import { afterEach, beforeAll, describe, expect, test } from 'vitest';
import { openDatabase } from '../../../src/database/client.js';
import { sqlState } from '../../../src/database/sqlstate.js';
import { type Database, inTransaction } from '../../../src/database/transaction.js';
import { Problem } from '../../../src/problems.js';
import type { Booking } from '../../../src/studio/bookings/contract.js';
import { moveBooking } from '../../../src/studio/bookings/move-booking.js';
import { bookPlaces } from '../../../src/studio/bookings/service.js';
import type { Course } from '../../../src/studio/courses/contract.js';
import { testApp } from '../../support/app.js';
import { bookingFixture, manyPeople, payFor } from '../../support/fixtures/bookings.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { MUG, piecesFixture } from '../../support/fixtures/ware.js';
import { made, personFixture } from '../../support/fixtures.js';

const { db, url, owner, tutor, clock, ownerMember } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
});
afterEach(() => clock.set('2026-03-10T09:00:00Z'));

const move = (booking: Pick<Booking, 'id'>, courseId: string, body: object = {}) =>
  owner.post(`/api/bookings/${booking.id}/move`, { courseId, ...body });
const addCourse = (places: number) => home.addCourse({ places, minimum: 1 }) as Promise<Course>;
const taken = (courseId: string) => db.place.count({ where: { booking: { courseId, cancelledAt: null } } });

describe('a booking stays where it is', () => {
  const refused = async (booking: Pick<Booking, 'id'>, courseId: string) => {
    const before = (await owner.get(`/api/bookings/${booking.id}`)).json();
    const [entries, letters] = [await db.journalEntry.count(), await db.notice.count()];
    const answer = (await move(booking, courseId)).json();
    expect((await owner.get(`/api/bookings/${booking.id}`)).json()).toEqual(before);
    expect([await db.journalEntry.count(), await db.notice.count()]).toEqual([entries, letters]);
    return answer;
  };

  test('where the other course has not places enough, and it says what is left', async () => {
    const [from, to] = [await addCourse(4), await addCourse(2)];
    const booking = await bookingFixture(owner, from.id, 2);
    await bookingFixture(owner, to.id);
    expect(await refused(booking, to.id)).toMatchObject({ type: '/problems/course-full', placesLeft: 1 });
    await bookingFixture(owner, to.id);
    expect(await refused(booking, to.id)).toMatchObject({ type: '/problems/course-full', placesLeft: 0 });
  });

  test('where it is on that course, one of its people is, or the course has begun', async () => {
    const [from, to] = [await addCourse(4), await addCourse(4)];
    const booking = await bookingFixture(owner, from.id, 2);
    expect(await refused(booking, from.id)).toMatchObject({ type: '/problems/already-there' });
    const id = booking.attendees[1]?.personId ?? '';
    await made(owner, `/api/courses/${to.id}/bookings`, { payerId: id, attendeeIds: [id] });
    expect((await refused(booking, to.id)).detail).toContain('has a place on this course already');
    const third = await addCourse(4);
    await clock.set('2026-04-15T09:00:00Z');
    expect(await refused(booking, third.id)).toMatchObject({ type: '/problems/course-over' });
  });

  test('where it is cancelled, or its ware is made', async () => {
    const [from, to] = [await addCourse(4), await addCourse(4)];
    const booking = await bookingFixture(owner, from.id);
    await piecesFixture(owner, booking.payerId, { courseId: from.id, firingPaidBy: 'course', ware: [MUG] });
    expect(await refused(booking, to.id)).toMatchObject({ type: '/problems/wrong-stage', pieces: 1 });
    await owner.post(`/api/bookings/${booking.id}/cancellation`, { reason: 'Ill', refundMinor: 0 });
    expect(await refused(booking, to.id)).toMatchObject({ type: '/problems/already-cancelled' });
  });

  test('and a tutor can’t move it', async () => {
    const booking = await bookingFixture(owner, (await addCourse(4)).id);
    const wish = { courseId: (await addCourse(4)).id };
    expect((await tutor.post(`/api/bookings/${booking.id}/move`, wish)).statusCode).toBe(403);
    expect((await tutor.post(`/api/bookings/${booking.id}/move/preview`, wish)).statusCode).toBe(403);
  });
});

describe('a place that is freed', () => {
  test('goes to who is next on the waiting list, and both courses say so in their history', async () => {
    const [from, to] = [await addCourse(1), await addCourse(1)];
    const booking = await bookingFixture(owner, from.id);
    const waits = await personFixture(owner, 'Ines Duval');
    await made(owner, `/api/courses/${from.id}/waiting-list`, { personId: waits.id, places: 1, note: null });
    expect((await move(booking, to.id)).json().next).toMatchObject({ name: 'Ines Duval', places: 1 });
    const history = async (id: string) => (await owner.get(`/api/courses/${id}/changes`)).json().items.at(-1).what;
    expect(await history(from.id)).toContain(`${booking.payerName}’s booking of one place was moved to “Two mugs”`);
    expect(await history(to.id)).toContain(`${booking.payerName}’s booking of one place was moved here from`);
  });

  test('who waited for the other course is on its list no more', async () => {
    const [from, to] = [await addCourse(1), await addCourse(1)];
    const [booking, other] = [await bookingFixture(owner, from.id), await bookingFixture(owner, to.id)];
    await made(owner, `/api/courses/${to.id}/waiting-list`, { personId: booking.payerId, places: 1, note: null });
    await owner.post(`/api/bookings/${other.id}/cancellation`, { reason: 'Ill' });
    expect((await move(booking, to.id)).statusCode).toBe(201);
    expect(await db.waitingEntry.findFirst({ where: { courseId: to.id } })).toMatchObject({ ended: 'booked' });
  });
});

describe('at once', () => {
  const member = { staffMemberId: ownerMember.id };
  /** Two database clients of their own, as two processes have them. */
  async function throughTwo<T>(work: (clients: [Database, Database]) => Promise<T>): Promise<T> {
    const opened = [await openDatabase(url), await openDatabase(url)] as const;
    try {
      return await work([opened[0].db, opened[1].db]);
    } finally {
      await Promise.all(opened.map(({ close }) => close()));
    }
  }
  const states = (outcomes: PromiseSettledResult<unknown>[]) =>
    outcomes.map((one) =>
      one.status === 'fulfilled' ? 'done' : one.reason instanceof Problem ? one.reason.type : String(one.reason),
    );

  test('ten moves and ten bookings want the last three places: three get one, and each other is told that none is left', async () => {
    const [from, to] = [await addCourse(10), await addCourse(3)];
    const bookings: Booking[] = [];
    for (let i = 0; i < 10; i++) bookings.push(await bookingFixture(owner, from.id));
    const people = await manyPeople(db, 10);
    const outcomes = await throughTwo((clients) =>
      Promise.allSettled(
        people.flatMap((id, i) => [
          inTransaction(clients[0], (tx) =>
            moveBooking(tx, clock.now(), member, bookings[i]?.id ?? '', { courseId: to.id }),
          ),
          inTransaction(clients[1], (tx) => bookPlaces(tx, clock.now(), to.id, { payerId: id, attendeeIds: [id] })),
        ]),
      ),
    );
    expect(states(outcomes).filter((one) => one === 'done')).toHaveLength(3);
    expect(states(outcomes).filter((one) => one === 'course-full')).toHaveLength(17);
    expect(await taken(to.id)).toBe(3);
    const movedAway = await db.bookingMove.count({ where: { to: { courseId: to.id } } });
    expect(await taken(from.id)).toBe(10 - movedAway);
  });

  test('moves to and fro between two courses wait for each other and don’t lock up', async () => {
    const [a, b] = [await addCourse(12), await addCourse(12)];
    const pairs: [Booking, Booking][] = [];
    for (let i = 0; i < 6; i++) pairs.push([await bookingFixture(owner, a.id), await bookingFixture(owner, b.id)]);
    for (const pair of pairs) for (const booking of pair) await payFor(owner, booking, 3000);
    const outcomes = await throughTwo(([one, other]) =>
      Promise.allSettled(
        pairs.flatMap(([first, second]) => [
          inTransaction(one, (tx) => moveBooking(tx, clock.now(), member, first.id, { courseId: b.id })),
          inTransaction(other, (tx) => moveBooking(tx, clock.now(), member, second.id, { courseId: a.id })),
        ]),
      ),
    );
    expect(states(outcomes)).toEqual(Array.from({ length: 12 }, () => 'done'));
    expect([await taken(a.id), await taken(b.id)]).toEqual([6, 6]);
  });

  test('one booking is moved twice: to one of the two courses', async () => {
    const [from, ...to] = [await addCourse(2), await addCourse(2), await addCourse(2)];
    const booking = await bookingFixture(owner, from.id);
    const outcomes = await throughTwo((clients) =>
      Promise.allSettled(
        clients.map((client, i) =>
          inTransaction(client, (tx) =>
            moveBooking(tx, clock.now(), member, booking.id, { courseId: to[i]?.id ?? '' }),
          ),
        ),
      ),
    );
    expect(states(outcomes).sort()).toEqual(['already-cancelled', 'done']);
    expect((await Promise.all(to.map(({ id }) => taken(id)))).reduce((sum, count) => sum + count, 0)).toBe(1);
  });
});

describe('the database refuses by itself', () => {
  const tried = (work: Promise<unknown>) => work.then(() => 'done', sqlState);

  test('a booking that says it was moved and was not, and money that is carried to nowhere', async () => {
    const [from, to] = [await addCourse(2), await addCourse(2)];
    const [booking, other] = [await bookingFixture(owner, from.id), await bookingFixture(owner, to.id)];
    const data = { cancelledAt: clock.now(), cancelledBecause: 'moved', movedToId: other.id };
    expect(await tried(db.booking.update({ where: { id: booking.id }, data }))).toBe('WB004');
    const end = { movedToId: other.id };
    expect(await tried(db.booking.update({ where: { id: booking.id }, data: end }))).toBe('23514');
    const charge = { personId: booking.payerId, method: 'carried' as const, receivedOn: clock.now(), at: clock.now() };
    const entry = await db.journalEntry.findFirstOrThrow({ where: { payment: null, charge: { isNot: null } } });
    const payment = { id: booking.id, amountMinor: 1000, entryId: entry.id, ...charge };
    const allocations = { create: [{ chargeId: booking.chargeId, amountMinor: 1000 }] };
    expect(await tried(db.payment.create({ data: { ...payment, allocations } }))).toBe('WB004');
  });

  test('a move that is changed afterwards', async () => {
    const booking = await bookingFixture(owner, (await addCourse(2)).id);
    await move(booking, (await addCourse(2)).id);
    const where = { bookingId: booking.id };
    expect(await tried(db.bookingMove.update({ where, data: { carriedMinor: 1 } }))).toBe('WB004');
    expect(await tried(db.bookingMove.delete({ where }))).toBe('WB004');
  });
});
