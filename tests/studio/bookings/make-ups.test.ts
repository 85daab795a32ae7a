import { afterEach, beforeAll, describe, expect, test } from 'vitest';
import { openDatabase } from '../../../src/database/client.js';
import { sqlState } from '../../../src/database/sqlstate.js';
import { type Database, inTransaction } from '../../../src/database/transaction.js';
import { Problem } from '../../../src/problems.js';
import type { Booking } from '../../../src/studio/bookings/contract.js';
import type { MakeUp } from '../../../src/studio/bookings/make-ups/contract.js';
import { addMakeUp } from '../../../src/studio/bookings/make-ups/service.js';
import { bookPlaces } from '../../../src/studio/bookings/service.js';
import type { Course } from '../../../src/studio/courses/contract.js';
import { testApp } from '../../support/app.js';
import { bookingFixture, manyPeople, payFor } from '../../support/fixtures/bookings.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { made } from '../../support/fixtures.js';

const { db, url, owner, tutor, clock, ownerMember } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
});
afterEach(() => clock.set('2026-03-10T09:00:00Z'));

let rooms = 0;
/** The same two sessions a week later: making on 21 April, glazing on 12 May. */
async function later(places = 8, title = 'Two mugs, a week later'): Promise<Course> {
  const { id: roomId } = await made(owner, '/api/rooms', { name: `Later room ${++rooms}`, benches: 50 });
  const sessions = [
    { startsAt: '2026-04-21T19:00:00+01:00', endsAt: '2026-04-21T21:30:00+01:00', roomId },
    { startsAt: '2026-05-12T19:00:00+01:00', endsAt: '2026-05-12T21:00:00+01:00', roomId },
  ];
  return home.addCourse({ title, sessions, places, minimum: 1 });
}
const session = ({ sessions }: Course, i = 0) => sessions[i]?.id ?? '';
const confirmed = async (course: Course, places = 1) => {
  const booking = await bookingFixture(owner, course.id, places);
  await payFor(owner, booking, booking.depositMinor);
  return booking;
};
const wish = (booking: Booking, missed: Course, there: Course, i = 0, j = i) => ({
  ...{ personId: booking.payerId, missedSessionId: session(missed, i), sessionId: session(there, j) },
});
const makeUp = (booking: Booking, body: object) => owner.post(`/api/bookings/${booking.id}/make-ups`, body);
const listed = async ({ id }: Course) => (await owner.get(`/api/courses/${id}/dates`)).json();
const register = async ({ id }: Course) => (await tutor.get(`/api/courses/${id}/register`)).json();
const came = (sessionId: string, personId: string, value: boolean | null) =>
  owner.post(`/api/sessions/${sessionId}/attendance`, { personId, came: value });

describe('a session is made up', () => {
  test('in the like session of another course: it is counted there, on its register and in both histories', async () => {
    const [from, to] = [(await home.addCourse()) as Course, await later(2)];
    const booking = await confirmed(from);
    const letters = await db.notice.count();
    const seen = await owner.post(`/api/bookings/${booking.id}/make-ups/preview`, wish(booking, from, to));
    expect(seen.json().letters).toMatchObject([{ occasion: 'makeUp', subject: 'Making up a session of Two mugs' }]);
    expect(await db.notice.count()).toBe(letters);
    const answer = await makeUp(booking, wish(booking, from, to));
    expect(answer.statusCode, answer.body).toBe(201);
    const done: MakeUp = answer.json();
    expect(done).toMatchObject({
      missed: { courseId: from.id, sessionId: session(from) },
      there: { courseId: to.id, courseTitle: 'Two mugs, a week later' },
    });
    expect(seen.json().letters[0].text).toContain('Tuesday 21 April 2026, 19:00 to 21:30');
    expect(await listed(to)).toMatchObject({ placesTaken: 0, placesMadeUp: 1 });
    expect((await register(to)).makeUps).toEqual([done]);
    expect((await register(from)).makeUps).toEqual([done]);
    const history = async (course: Course) =>
      (await owner.get(`/api/courses/${course.id}/changes`)).json().items.at(-1).what;
    expect(await history(from)).toContain('misses session 1, Tuesday 14 April 2026');
    expect(await history(to)).toContain('comes to make up a session of “Two mugs”');
    // one of the two places is gone, since it is in one of the sessions
    await bookingFixture(owner, to.id);
    const [id] = await manyPeople(db, 1);
    const late = await owner.post(`/api/courses/${to.id}/bookings`, { payerId: id, attendeeIds: [id] });
    // what is left only the service says: the database, which refuses too, does not
    expect(late.json()).toMatchObject({ type: '/problems/course-full', placesLeft: 0 });
  });

  test('of those that can be chosen the same session of the same plan is first, and full ones are not among them', async () => {
    const from = (await home.addCourse()) as Course;
    const [free, full] = [await later(1, 'With a place'), await later(1, 'Without one')];
    await bookingFixture(owner, full.id);
    const items = async (i: number) =>
      (await owner.get(`/api/sessions/${session(from, i)}/make-up-places`)).json().items;
    const [making, glazing] = [await items(0), await items(1)];
    const titles = making.map(({ courseTitle }: { courseTitle: string }) => courseTitle);
    expect(titles).toContain('With a place');
    expect(titles).not.toContain('Without one');
    expect(making.map(({ sessionId }: { sessionId: string }) => sessionId)).not.toContain(session(free, 1));
    expect(glazing.map(({ sessionId }: { sessionId: string }) => sessionId)).toContain(session(free, 1));
    expect(making[0]).toMatchObject({ isSamePlan: true, placesLeft: expect.any(Number) });
  });

  test('that somebody missed: once the register says that they did not come; and there they are noted as they come', async () => {
    const [from, to] = [(await home.addCourse()) as Course, await later()];
    const booking = await confirmed(from);
    await clock.set('2026-04-14T20:00:00Z');
    const body = wish(booking, from, to);
    expect((await makeUp(booking, body)).json().detail).toContain('Note on the register first');
    await came(session(from), booking.payerId, true);
    expect((await makeUp(booking, body)).json().detail).toContain('came to that session');
    await came(session(from), booking.payerId, false);
    expect((await makeUp(booking, body)).statusCode).toBe(201);
    await clock.set('2026-04-21T18:30:00Z');
    const { sessions } = (await owner.get('/api/today')).json();
    const there = sessions.find(({ sessionId }: { sessionId: string }) => sessionId === session(to));
    expect(there).toMatchObject({ booked: 1, coming: [{ personId: booking.payerId, makesUp: 'Two mugs' }] });
    expect((await came(session(to), booking.payerId, true)).statusCode).toBe(201);
    expect((await came(session(to, 1), booking.payerId, true)).statusCode).toBe(409);
  });

  test('and taken off again: the place is free, they are told, and another session can be chosen', async () => {
    const [from, to] = [(await home.addCourse()) as Course, await later(1)];
    const booking = await confirmed(from);
    const { id }: MakeUp = (await makeUp(booking, wish(booking, from, to))).json();
    const removal = (path = '') => owner.post(`/api/make-ups/${id}/removal${path}`, {});
    expect((await removal('/preview')).json().letters).toMatchObject([{ occasion: 'makeUpEnded' }]);
    expect((await removal()).statusCode).toBe(201);
    expect((await removal()).json().type).toBe('/problems/already-cancelled');
    expect(await listed(to)).toMatchObject({ placesMadeUp: 0 });
    expect((await register(to)).makeUps).toEqual([]);
    expect((await makeUp(booking, wish(booking, from, to))).statusCode).toBe(201);
  });

  test('ends with the booking, or with the place, that it is of', async () => {
    const [from, to] = [(await home.addCourse()) as Course, await later()];
    const [whole, part] = [await confirmed(from), await confirmed(from, 2)];
    for (const booking of [whole, part]) await makeUp(booking, wish(booking, from, to));
    expect(await listed(to)).toMatchObject({ placesMadeUp: 2 });
    await owner.post(`/api/bookings/${whole.id}/cancellation`, { reason: 'Ill', refundMinor: 0 });
    const leaves = { reason: 'Ill', refundMinor: 0, attendeeIds: [part.payerId] };
    expect((await owner.post(`/api/bookings/${part.id}/cancellation`, leaves)).statusCode).toBe(201);
    expect(await listed(to)).toMatchObject({ placesMadeUp: 0 });
  });

  test('has their note on health on the register of that session alone', async () => {
    const [from, to] = [(await home.addCourse()) as Course, await later()];
    const booking = await confirmed(from);
    await owner.put(`/api/people/${booking.payerId}/care-note`, { careNote: 'Asthma.' });
    await makeUp(booking, wish(booking, from, to));
    const { notes } = (await owner.get(`/api/courses/${to.id}/care-notes`)).json();
    expect(notes).toEqual([{ sessionId: session(to), personId: booking.payerId, careNote: 'Asthma.' }]);
  });
});

describe('who comes to make a session up', () => {
  const told = async (personId: string) =>
    (await db.notice.findMany({ where: { personId }, orderBy: { id: 'asc' } }))
      .map(({ occasion }) => occasion)
      .slice(-1);
  const guest = async () => {
    const [from, to] = [(await home.addCourse()) as Course, await later()];
    const booking = await confirmed(from);
    await makeUp(booking, wish(booking, from, to));
    return { booking, to };
  };

  test('is told when that session is moved', async () => {
    const { booking, to } = await guest();
    const [first] = to.sessions;
    const body = { day: '2026-04-22', from: '19:00', until: '21:30', roomId: first?.roomId, tutorIds: [] };
    const answer = await owner.post(`/api/sessions/${first?.id}/moves`, body);
    expect(answer.json().alsoTold).toMatchObject([{ personId: booking.payerId }]);
    expect(await told(booking.payerId)).toEqual(['sessionMoved']);
  });

  test('is told when that session is cancelled, and can choose another one', async () => {
    const { booking, to } = await guest();
    const body = { reason: 'The kiln has failed', backMinor: 0 };
    const answer = await owner.post(`/api/sessions/${session(to)}/cancellation`, body);
    expect(answer.statusCode, answer.body).toBe(201);
    expect(await told(booking.payerId)).toEqual(['makeUpEnded']);
    const third = await later();
    const again = await makeUp(booking, { ...wish(booking, third, third), missedSessionId: await missedOf(booking) });
    expect(again.statusCode, again.body).toBe(201);
  });

  test('is told when the whole course is cancelled', async () => {
    const { booking, to } = await guest();
    const body = { reason: 'Too few have booked', cause: 'tooFew' };
    expect((await owner.post(`/api/courses/${to.id}/cancellation`, body)).statusCode).toBe(201);
    expect(await told(booking.payerId)).toEqual(['makeUpEnded']);
    expect(await db.makeUp.count({ where: { bookingId: booking.id, endedAt: null } })).toBe(0);
  });

  const missedOf = async ({ id }: Booking) =>
    (await db.makeUp.findFirstOrThrow({ where: { bookingId: id } })).missedSessionId;
});

describe('it is refused', () => {
  test('in a session of another purpose, of the same course, or where it has begun or is full', async () => {
    const [from, to] = [(await home.addCourse()) as Course, await later(1)];
    const booking = await confirmed(from);
    const type = async (body: object) => (await makeUp(booking, body)).json().type;
    expect(await type(wish(booking, from, to, 0, 1))).toBe('/problems/no-make-up');
    expect(await type(wish(booking, from, from, 0, 1))).toBe('/problems/no-make-up');
    await bookingFixture(owner, to.id);
    expect(await type(wish(booking, from, to))).toBe('/problems/course-full');
    await clock.set('2026-04-21T18:00:01Z');
    expect(await type(wish(booking, from, to))).toBe('/problems/course-over');
  });

  test('twice for one session, for who has a place there, and for who does not come on the booking', async () => {
    const [from, to, third] = [(await home.addCourse()) as Course, await later(), await later()];
    const [booking, other] = [await confirmed(from), await confirmed(from)];
    expect((await makeUp(booking, wish(booking, from, to))).statusCode).toBe(201);
    expect((await makeUp(booking, wish(booking, from, third))).json().type).toBe('/problems/already-there');
    const books = { payerId: booking.payerId, attendeeIds: [booking.payerId] };
    const answer = (await owner.post(`/api/courses/${to.id}/bookings`, books)).json();
    expect(answer.detail).toContain('makes up a session on this course. Take that off first');
    await made(owner, `/api/courses/${third.id}/bookings`, { payerId: other.payerId, attendeeIds: [other.payerId] });
    expect((await makeUp(other, wish(other, from, third))).json().detail).toContain('comes to that session anyway');
    expect((await makeUp(booking, wish(other, from, to))).json().type).toBe('/problems/not-found');
    expect((await tutor.post(`/api/bookings/${booking.id}/make-ups`, wish(booking, from, third))).statusCode).toBe(403);
  });

  test('by the database too', async () => {
    const [from, to] = [(await home.addCourse()) as Course, await later(1)];
    const booking = await confirmed(from);
    const row = { bookingId: booking.id, madeAt: clock.now(), madeById: ownerMember.id, ...wish(booking, from, to) };
    const tried = (work: Promise<unknown>) => work.then(() => 'done', sqlState);
    const create = (changes: object) => db.makeUp.create({ data: { id: crypto.randomUUID(), ...row, ...changes } });
    expect(await tried(create({ sessionId: session(to, 1) }))).toBe('WB021');
    expect(await tried(create({ personId: (await confirmed(from)).payerId }))).toBe('WB021');
    const { id } = await create({});
    expect(await tried(create({}))).toBe('23505');
    await expect(bookingFixture(owner, to.id)).rejects.toThrow('course-full');
    const cancel = { cancelledAt: clock.now(), cancelledBecause: 'Ill' };
    expect(await tried(db.session.update({ where: { id: session(to) }, data: cancel }))).toBe('WB021');
    const ended = { endedAt: clock.now(), endedBecause: 'taken off' };
    await db.makeUp.update({ where: { id }, data: ended });
    expect(await tried(db.makeUp.update({ where: { id }, data: { endedAt: null, endedBecause: null } }))).toBe('WB021');
    expect(await tried(db.makeUp.delete({ where: { id } }))).toBe('WB021');
  });
});

test('at once: twelve make-ups and twelve bookings want the last two places, and no session is oversold', async () => {
  const [from, to] = [(await home.addCourse({ places: 12, minimum: 1 })) as Course, await later(2)];
  const bookings: Booking[] = [];
  for (let i = 0; i < 12; i++) bookings.push(await bookingFixture(owner, from.id));
  const people = await manyPeople(db, 12);
  const member = { staffMemberId: ownerMember.id };
  const opened = [await openDatabase(url), await openDatabase(url)] as const;
  const [one, other]: [Database, Database] = [opened[0].db, opened[1].db];
  const outcomes = await Promise.allSettled(
    bookings.flatMap((booking, i) => {
      const payerId = people[i] ?? '';
      return [
        inTransaction(one, (tx) => addMakeUp(tx, clock.now(), member, booking.id, wish(booking, from, to, i % 2))),
        inTransaction(other, (tx) => bookPlaces(tx, clock.now(), to.id, { payerId, attendeeIds: [payerId] })),
      ];
    }),
  );
  await Promise.all(opened.map(({ close }) => close()));
  const refused = outcomes.flatMap((outcome) => (outcome.status === 'rejected' ? [outcome.reason] : []));
  expect(refused.every((reason) => reason instanceof Problem && reason.type === 'course-full')).toBe(true);
  const taken = await db.place.count({ where: { booking: { courseId: to.id, cancelledAt: null } } });
  for (const { id: sessionId } of to.sessions) {
    const guests = await db.makeUp.count({ where: { sessionId, endedAt: null } });
    expect(taken + guests).toBeLessThanOrEqual(2);
  }
  expect(outcomes.length - refused.length).toBeGreaterThanOrEqual(2);
});
