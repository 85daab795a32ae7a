import { randomUUID } from 'node:crypto';
import { afterEach, beforeAll, describe, expect, test } from 'vitest';
import { openDatabase } from '../../../src/database/client.js';
import { sqlState } from '../../../src/database/sqlstate.js';
import { inTransaction } from '../../../src/database/transaction.js';
import type { Booking } from '../../../src/studio/bookings/contract.js';
import { bookingTasks } from '../../../src/studio/bookings/jobs.js';
import { acceptOffer } from '../../../src/studio/bookings/waiting-list/acceptance.js';
import type { WaitingEntry, WaitingList } from '../../../src/studio/bookings/waiting-list/contract.js';
import type { Plan } from '../../../src/studio/courses/plan-contract.js';
import { testApp } from '../../support/app.js';
import { bookingFixture } from '../../support/fixtures/bookings.js';
import { coursesFixture, planBody } from '../../support/fixtures/courses.js';
import { made, personFixture } from '../../support/fixtures.js';

const { db, url, owner, tutor, clock } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
});
afterEach(() => clock.set('2026-03-10T09:00:00Z'));

const addCourse = async (places: number, changes: object = {}): Promise<string> =>
  (await home.addCourse({ places, minimum: 1, ...changes })).id;
const ask = (courseId: string, personId: string, body: object = {}) =>
  owner.post(`/api/courses/${courseId}/waiting-list`, { personId, ...body });
/** Somebody new on the waiting list. */
async function waits(courseId: string, places = 1): Promise<WaitingEntry> {
  const answer = await ask(courseId, (await personFixture(owner)).id, { places });
  expect(answer.statusCode).toBe(201);
  return answer.json();
}
const offer = (courseId: string, body: object = {}) => owner.post(`/api/courses/${courseId}/waiting-list/offers`, body);
const accept = ({ id, personId }: WaitingEntry, attendeeIds = [personId]) =>
  owner.post(`/api/waiting-list/${id}/acceptance`, { payerId: personId, attendeeIds });
const remove = ({ id }: WaitingEntry) => owner.post(`/api/waiting-list/${id}/removal`, {});
const cancel = ({ id }: Booking, body: object = {}) =>
  owner.post(`/api/bookings/${id}/cancellation`, { reason: 'Ill', method: 'cash', ...body });
const list = async (courseId: string): Promise<WaitingList> =>
  (await owner.get(`/api/courses/${courseId}/waiting-list`)).json();
const problem = (answer: { json(): { type: string } }) => answer.json().type.replace('/problems/', '');
const lettersTo = async ({ personId }: WaitingEntry) =>
  (await db.notice.findMany({ where: { personId }, orderBy: { id: 'asc' } })).map(({ occasion }) => occasion);
const lapse = () => bookingTasks(db, clock.now)['lapse-offers']();

describe('the waiting list of a full course', () => {
  test('keeps the order, and says who is next for what is left', async () => {
    const course = await addCourse(2);
    const booking = await bookingFixture(owner, course, 2);
    const two = await waits(course, 2);
    const one = await waits(course);
    expect(await list(course)).toMatchObject({
      placesLeft: 0,
      waiting: [{ id: two.id }, { id: one.id }],
      nextId: null,
    });
    // the first asks for two: one place is for the second
    const attendeeIds = [booking.attendees[1]?.personId];
    const wish = { reason: 'Ill', attendeeIds };
    const seen = (await owner.post(`/api/bookings/${booking.id}/cancellation/preview`, wish)).json().outcome;
    expect(seen.next).toEqual({ entryId: one.id, personId: one.personId, name: one.personName, places: 1 });
    expect((await cancel(booking, { attendeeIds })).json().next).toEqual(seen.next);
    expect(await list(course)).toMatchObject({ placesLeft: 1, nextId: one.id });
    expect((await cancel(booking)).json().next).toMatchObject({ entryId: two.id, places: 2 });
  });

  test('takes nobody twice, nobody with a place, and nobody where places are left', async () => {
    const course = await addCourse(2);
    const early = await personFixture(owner);
    expect(problem(await ask(course, early.id))).toBe('places-left');
    const booking = await bookingFixture(owner, course, 2);
    expect(problem(await ask(course, booking.payerId))).toBe('already-there');
    const entry = await waits(course);
    expect(problem(await ask(course, entry.personId))).toBe('already-waiting');
    expect(problem(await ask(course, early.id, { places: 3 }))).toBe('course-full');
    for (const wrong of [{ places: 0 }, { places: 21 }, { note: '' }])
      expect((await ask(course, early.id, wrong)).statusCode).toBe(422);
    expect((await ask(randomUUID(), early.id)).statusCode).toBe(404);
    expect((await tutor.get(`/api/courses/${course}/waiting-list`)).statusCode).toBe(403);
    await clock.set('2026-04-14T18:00:00Z');
    expect(problem(await ask(course, early.id))).toBe('course-over');
    expect(problem(await offer(course))).toBe('course-over');
  });

  test('is none of a private session', async () => {
    const plan = await made<Plan>(owner, '/api/course-plans', { ...planBody(home), kind: 'private', groupOf: 2 });
    const course = await addCourse(6, { planId: plan.id, perHeadAboveMinor: 2500, minimum: 2 });
    expect(problem(await ask(course, (await personFixture(owner)).id))).toBe('course-full');
  });
});

describe('an offer', () => {
  test('goes to the first with a letter, and its place is sold to nobody else meanwhile', async () => {
    const course = await addCourse(1);
    const booking = await bookingFixture(owner, course);
    const [first, second] = [await waits(course), await waits(course)];
    expect(problem(await offer(course))).toBe('course-full');
    await cancel(booking);
    const seen = (await owner.post(`/api/courses/${course}/waiting-list/offers/preview`, {})).json();
    expect(seen.letters).toMatchObject([{ occasion: 'placeOffered', personId: first.personId }]);
    expect(seen.letters[0].text.replaceAll(/\s+/g, ' ')).toContain('until Thursday 12 March 2026, 09:00');
    expect((await offer(course)).json()).toMatchObject({ id: first.id, offeredUntil: '2026-03-12T09:00:00.000Z' });
    // the service counts it itself: the database alone would say less
    const wish = { payerId: second.personId, attendeeIds: [second.personId] };
    const refused = (await owner.post(`/api/courses/${course}/bookings`, wish)).json();
    expect(refused).toMatchObject({ type: '/problems/course-full', placesLeft: 0 });
    const { items } = (await owner.get('/api/courses?limit=200')).json();
    expect(items.find(({ id }: { id: string }) => id === course).placesTaken).toBe(1);
    expect(problem(await accept(second))).toBe('no-offer');
    expect(problem(await accept(first, [first.personId, second.personId]))).toBe('course-full');

    const accepted = (await accept(first)).json();
    expect(accepted.booking).toMatchObject({ state: 'provisional', attendees: [{ personId: first.personId }] });
    expect(accepted.entry).toMatchObject({ ended: 'booked', bookingId: accepted.booking.id });
    expect(problem(await accept(first))).toBe('no-offer');
    expect(await lettersTo(first)).toEqual(['placeOffered', 'booking']);
  });

  test('of two places, one of which is accepted, leaves the other for the next', async () => {
    const course = await addCourse(2);
    const booking = await bookingFixture(owner, course, 2);
    const [two, next] = [await waits(course, 2), await waits(course)];
    await cancel(booking);
    await offer(course);
    await accept(two);
    expect(await list(course)).toMatchObject({ placesLeft: 1, nextId: next.id });
  });

  test('that is not answered lapses, with a letter, and the next has it', async () => {
    const course = await addCourse(1);
    const booking = await bookingFixture(owner, course);
    const [first, second] = [await waits(course), await waits(course)];
    await cancel(booking);
    await offer(course, { until: '2026-03-10T12:00:00Z' });
    await clock.set('2026-03-10T11:59:59Z');
    await lapse();
    expect(await lettersTo(first)).toEqual(['placeOffered']);
    await clock.set('2026-03-10T12:00:00Z');
    expect(problem(await accept(first))).toBe('no-offer');
    await lapse();
    await lapse();
    expect(await lettersTo(first)).toEqual(['placeOffered', 'offerLapsed']);
    expect(await lettersTo(second)).toEqual(['placeOffered']);
    expect(await list(course)).toMatchObject({
      waiting: [{ id: second.id, offeredUntil: '2026-03-12T12:00:00.000Z' }],
      ended: [{ id: first.id, ended: 'lapsed' }],
    });
    // who lost it may wait again, last of all
    expect((await ask(course, first.personId)).statusCode).toBe(201);
  });

  test('that is declined goes to the next; who only waited is taken off', async () => {
    const course = await addCourse(1);
    const booking = await bookingFixture(owner, course);
    const [first, second, third] = [await waits(course), await waits(course), await waits(course)];
    await cancel(booking);
    await offer(course);
    expect((await remove(third)).json()).toMatchObject({ entry: { ended: 'removed' }, offered: null });
    expect((await remove(first)).json()).toMatchObject({ entry: { ended: 'declined' }, offered: { id: second.id } });
    expect(problem(await remove(first))).toBe('no-offer');
    expect((await remove(second)).json()).toMatchObject({ entry: { ended: 'declined' }, offered: null });
    expect(problem(await offer(course))).toBe('nobody-waits');
  });

  test('ends by the start of the course, and in the future', async () => {
    const course = await addCourse(1);
    const booking = await bookingFixture(owner, course);
    await waits(course);
    await cancel(booking);
    for (const until of ['2026-03-10T09:00:00Z', '2026-04-14T18:00:01Z'])
      expect((await offer(course, { until })).json().errors).toMatchObject([{ pointer: '#/until' }]);
    await clock.set('2026-04-14T09:00:00Z');
    expect((await offer(course)).json()).toMatchObject({ offeredUntil: '2026-04-14T18:00:00.000Z' });
  });

  test('is used up where who has it books past it', async () => {
    const course = await addCourse(1);
    const booking = await bookingFixture(owner, course);
    const entry = await waits(course);
    await cancel(booking);
    await offer(course);
    const wish = { payerId: entry.personId, attendeeIds: [entry.personId] };
    const booked = (await owner.post(`/api/courses/${course}/bookings`, wish)).json();
    expect((await list(course)).ended).toMatchObject([{ ended: 'booked', bookingId: booked.id }]);
  });
});

describe('at once', () => {
  test('an offer that is accepted many times, by two programs, is booked once', async () => {
    const course = await addCourse(3);
    const booking = await bookingFixture(owner, course, 3);
    const entry = await waits(course);
    await cancel(booking);
    await offer(course);
    const opened = [await openDatabase(url), await openDatabase(url)] as const;
    const wish = { payerId: entry.personId, attendeeIds: [entry.personId] };
    const outcomes = await Promise.allSettled(
      Array.from({ length: 12 }, (_, i) =>
        inTransaction(opened[i % 2 ? 0 : 1].db, (tx) => acceptOffer(tx, clock.now(), entry.id, wish)),
      ),
    );
    await Promise.all(opened.map(({ close }) => close()));
    const refused = outcomes.flatMap((outcome) => (outcome.status === 'rejected' ? [outcome.reason.type] : []));
    expect(refused).toEqual(Array<string>(11).fill('no-offer'));
    expect(await db.booking.count({ where: { courseId: course, cancelledAt: null } })).toBe(1);
  });

  test('the last place is booked or offered, and an offer accepted or lapsed: never both', async () => {
    const course = await addCourse(1);
    const booking = await bookingFixture(owner, course);
    const entry = await waits(course);
    await cancel(booking);
    const people = await Promise.all(Array.from({ length: 5 }, () => personFixture(owner)));
    const answers = await Promise.all([
      offer(course),
      ...people.map(({ id }) => owner.post(`/api/courses/${course}/bookings`, { payerId: id, attendeeIds: [id] })),
    ]);
    expect(answers.filter(({ statusCode }) => statusCode === 201)).toHaveLength(1);
    for (const answer of answers) if (answer.statusCode !== 201) expect(problem(answer)).toBe('course-full');

    const other = await addCourse(1);
    const its = await bookingFixture(owner, other);
    const waiting = await waits(other);
    await cancel(its);
    await offer(other, { until: '2026-03-10T12:00:00Z' });
    await clock.set('2026-03-10T12:00:00Z');
    await Promise.all([accept(waiting), lapse(), accept(waiting), lapse()]);
    expect((await list(other)).ended).toMatchObject([{ ended: 'lapsed', bookingId: null }]);
    expect(entry.courseId).toBe(course);
  });
});

describe('the database by itself', () => {
  const code = (work: Promise<unknown>) => work.then(() => null, sqlState);
  const row = (courseId: string, personId: string, places = 1) => ({
    ...{ id: randomUUID(), courseId, personId, places, since: clock.now() },
  });
  const offered = () => ({ offeredAt: clock.now(), offeredUntil: new Date('2026-03-12T09:00:00Z') });

  test('offers no more than there is, and sells nothing that is offered', async () => {
    const course = await addCourse(2);
    const booking = await bookingFixture(owner, course);
    const { id: personId } = await personFixture(owner);
    expect(await code(db.waitingEntry.create({ data: { ...row(course, personId, 2), ...offered() } }))).toBe('WB002');
    await db.waitingEntry.create({ data: { ...row(course, personId), ...offered() } });
    const another = { id: randomUUID(), bookingId: booking.id, personId: (await personFixture(owner)).id };
    expect(await code(db.place.create({ data: another }))).toBe('WB002');
    const fewer = db.course.update({ where: { id: course }, data: { places: 1 } });
    expect(await code(fewer)).toBe('WB002');
  });

  test('lets nobody wait who has a place, nor wait twice, nor take back what came of it', async () => {
    const course = await addCourse(3);
    const booking = await bookingFixture(owner, course);
    expect(await code(db.waitingEntry.create({ data: row(course, booking.payerId) }))).toBe('WB014');
    const { id: personId } = await personFixture(owner);
    const { id } = await db.waitingEntry.create({ data: row(course, personId) });
    expect(await code(db.waitingEntry.create({ data: row(course, personId) }))).toBe('23505');
    const place = { id: randomUUID(), bookingId: booking.id, personId };
    expect(await code(db.place.create({ data: place }))).toBe('WB014');
    await db.waitingEntry.update({ where: { id }, data: { ended: 'removed', endedAt: clock.now() } });
    expect(await code(db.waitingEntry.update({ where: { id }, data: { ended: null, endedAt: null } }))).toBe('WB014');
    expect(await code(db.waitingEntry.delete({ where: { id } }))).toBe('WB014');
    expect(await code(db.place.create({ data: place }))).toBeNull();
  });
});
