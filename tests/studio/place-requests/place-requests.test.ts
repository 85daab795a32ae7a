import { randomUUID } from 'node:crypto';
import { beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { sqlState } from '../../../src/database/sqlstate.js';
import type { Booking } from '../../../src/studio/bookings/contract.js';
import type { Plan } from '../../../src/studio/courses/plan-contract.js';
import { WAITING_MAX } from '../../../src/studio/place-requests/asking.js';
import type { PlaceRequest } from '../../../src/studio/place-requests/contract.js';
import { forgetRequests } from '../../../src/studio/place-requests/jobs.js';
import { testApp } from '../../support/app.js';
import { bookingFixture } from '../../support/fixtures/bookings.js';
import { coursesFixture, planBody } from '../../support/fixtures/courses.js';
import { made, personFixture } from '../../support/fixtures.js';

const { app, db, owner, tutor, clock } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
const turn = (takesRequests: boolean, isOn = true) =>
  owner.put('/api/web-page', { isOn, namesTutors: false, takesRequests });

beforeAll(async () => {
  home = await coursesFixture(owner);
});
beforeEach(async () => {
  await clock.set('2026-03-10T09:00:00Z');
  await turn(true);
  await db.placeRequest.deleteMany();
});

const NADIA = { name: 'Nadia Okoro', email: 'nadia@example.org' };
let callers = 0;
/** As a page asks that the program served, nobody signed in; each time from another address, or the limit would answer. */
const ask = (courseId: string, body: object = NADIA, headers: Record<string, string> = {}) =>
  app.inject({
    ...{ method: 'POST', url: `/api/public/courses/${courseId}/requests`, payload: body },
    headers: { 'sec-fetch-site': 'same-origin', 'idempotency-key': `"${randomUUID()}"`, ...headers },
    remoteAddress: `192.0.2.${++callers % 250}`,
  });
const see = (courseId: string) => app.inject({ url: `/api/public/courses/${courseId}` });
const open = async (): Promise<PlaceRequest[]> => (await owner.get('/api/place-requests?state=open')).json().items;
const problem = (answer: { json(): { type: string } }) => answer.json().type.replace('/problems/', '');
const addCourse = async (changes: object = {}): Promise<string> => (await home.addCourse({ places: 4, ...changes })).id;
const request = async (courseId: string, body: object = NADIA): Promise<PlaceRequest> => {
  expect((await ask(courseId, body)).statusCode).toBe(202);
  return (await open()).at(-1) as PlaceRequest;
};

describe('asking for a place', () => {
  test('shows the course, takes the request, and writes to nobody', async () => {
    const id = await addCourse({ title: 'Bowls' });
    expect((await see(id)).json()).toMatchObject({
      ...{ title: 'Bowls', placesLeft: 4, price: '£120' },
      sessions: [expect.stringContaining('14 April'), expect.anything()],
    });
    const letters = await db.notice.count();
    const answer = await ask(id, { ...NADIA, places: 2, phone: '01632 960114', note: 'With my sister' });
    expect([answer.statusCode, answer.json()]).toEqual([202, { title: 'Bowls', places: 2 }]);
    expect(await open()).toMatchObject([
      {
        ...{ courseId: id, courseTitle: 'Bowls', ...NADIA, places: 2, phone: '01632 960114', note: 'With my sister' },
        ...{ placesLeft: 4, isJoinable: true, answer: null, known: [] },
      },
    ]);
    expect(await db.notice.count()).toBe(letters);
  });

  test('is off unless the owner takes requests, and then names no course', async () => {
    const id = await addCourse();
    for (const [takes, isOn] of [
      [false, true],
      [true, false],
    ] as const) {
      await turn(takes, isOn);
      expect([problem(await see(id)), problem(await ask(id))]).toEqual(['not-found', 'not-found']);
    }
    expect(await open()).toEqual([]);
  });

  test('is linked from the studio’s own web page while it is taken', async () => {
    const id = await addCourse({ title: 'Linked bowls' });
    const fragment = async () => (await app.inject({ url: '/api/public/courses.html' })).body;
    expect(await fragment()).toMatch(new RegExp(`href="http://[^"]+/ask/${id}">Ask for a place<`));
    await turn(false);
    expect(await fragment()).not.toContain('/ask/');
  });

  test('ends when the course begins, is cancelled, or is for a group of its own', async () => {
    const id = await addCourse();
    await clock.set('2026-04-14T18:30:00Z');
    expect(problem(await ask(id))).toBe('not-found');
    await clock.set('2026-03-10T09:00:00Z');
    const group = { ...planBody(home), kind: 'private', groupOf: 4, minimum: 1 };
    const planId = (await made<Plan>(owner, '/api/course-plans', group)).id;
    expect(problem(await see(await addCourse({ planId, minimum: 1, perHeadAboveMinor: 1000 })))).toBe('not-found');
    const body = { cause: 'tooFew', reason: 'Too few booked' };
    expect((await owner.post(`/api/courses/${id}/cancellation`, body)).statusCode).toBeLessThan(300);
    expect(problem(await ask(id))).toBe('not-found');
    expect(problem(await ask(randomUUID()))).toBe('not-found');
  });

  test('twice is once, in whatever case the address is written', async () => {
    const id = await addCourse();
    await Promise.all([ask(id), ask(id), ask(id, { ...NADIA, email: 'Nadia@Example.org' })]);
    expect(await open()).toHaveLength(1);
    expect(await open()).toMatchObject([{ courseId: id }]);
  });

  test('what fills in the field that people don’t see is told yes, and kept nowhere', async () => {
    const id = await addCourse();
    const answer = await ask(id, { ...NADIA, website: 'https://pots.example' });
    expect([answer.statusCode, answer.json().places]).toEqual([202, 1]);
    expect(await db.placeRequest.count()).toBe(0);
  });

  test('is refused where it can’t be meant: no name, no address, more places than there are, another site', async () => {
    const id = await addCourse();
    const pointers = async (body: object) =>
      (await ask(id, body)).json().errors.map(({ pointer }: { pointer: string }) => pointer);
    expect(await pointers({ name: ' ', email: 'nadia', places: 0 })).toEqual(['#/name', '#/email', '#/places']);
    expect(await pointers({ ...NADIA, places: 5 })).toEqual(['#/places']);
    expect(problem(await ask(id, NADIA, { 'sec-fetch-site': 'cross-site' }))).toBe('cross-site');
    expect(await open()).toEqual([]);
  });

  test('has a limit by address and one in all, both told', async () => {
    const id = await addCourse();
    const one = () =>
      app.inject({
        ...{ method: 'POST', url: `/api/public/courses/${id}/requests`, payload: NADIA },
        headers: { 'sec-fetch-site': 'same-origin', 'idempotency-key': `"${randomUUID()}"` },
        remoteAddress: '198.51.100.7',
      });
    for (let i = 0; i < 10; i++) expect((await one()).statusCode).toBe(202);
    expect(problem(await one())).toBe('too-many-requests');
    const many = Array.from({ length: WAITING_MAX - 1 }, (_, i) => ({
      ...{
        id: randomUUID(),
        courseId: id,
        name: 'Somebody',
        email: `${i}@example.org`,
        places: 1,
        askedAt: clock.now(),
      },
    }));
    await db.placeRequest.createMany({ data: many });
    const refused = await ask(id, { ...NADIA, email: 'last@example.org' });
    expect(problem(refused)).toBe('requests-waiting');
    expect(refused.json().detail).toContain('Ring it or write to it');
  });
});

describe('answering', () => {
  test('a booking is one answer: with its price seen first, for whom the address is known to be', async () => {
    const id = await addCourse({ title: 'Booked bowls' });
    const person = await personFixture(owner, 'Nadia Okoro');
    await db.person.update({ where: { id: person.id }, data: { email: 'NADIA@example.org' } });
    const { id: requestId, known } = await request(id);
    expect(known).toEqual([{ id: person.id, name: 'Nadia Okoro' }]);
    const wish = { payerId: person.id, attendeeIds: [person.id] };
    const at = `/api/place-requests/${requestId}/booking`;
    expect((await owner.post(`${at}/preview`, wish)).json().outcome).toMatchObject({ priceMinor: 12000 });
    expect(await open()).toHaveLength(1);
    const booking: Booking = (await owner.post(at, wish)).json();
    expect(booking).toMatchObject({ courseId: id, payerId: person.id });
    expect((await owner.get('/api/place-requests?state=answered')).json().items).toMatchObject([
      { id: requestId, answer: 'booked', bookingId: booking.id },
    ]);
    expect(problem(await owner.post(at, wish))).toBe('already-there');
    expect(await open()).toEqual([]);
  });

  test('two answers at once: one is kept', async () => {
    const id = await addCourse();
    const { id: requestId } = await request(id);
    const person = await personFixture(owner);
    const wish = { payerId: person.id, attendeeIds: [person.id] };
    const answers = await Promise.all([
      owner.post(`/api/place-requests/${requestId}/booking`, wish),
      owner.post(`/api/place-requests/${requestId}/decline`, {}),
    ]);
    expect(answers.map(({ statusCode }) => statusCode < 300).sort()).toEqual([false, true]);
    const declined = (await db.placeRequest.findUniqueOrThrow({ where: { id: requestId } })).answer === 'declined';
    expect(await db.booking.count({ where: { courseId: id } })).toBe(declined ? 0 : 1);
  });

  test('where the course is full, who asks waits', async () => {
    const id = await addCourse({ places: 1, minimum: 1 });
    await bookingFixture(owner, id);
    const { id: requestId, placesLeft } = await request(id);
    expect(placesLeft).toBe(0);
    const person = await personFixture(owner);
    const wish = { payerId: person.id, attendeeIds: [person.id] };
    expect(problem(await owner.post(`/api/place-requests/${requestId}/booking`, wish))).toBe('course-full');
    expect(await open()).toHaveLength(1); // a refusal answers nothing
    const waiting = await owner.post(`/api/place-requests/${requestId}/waiting-entry`, { personId: person.id });
    expect([waiting.statusCode, waiting.json().courseId]).toEqual([201, id]);
    expect((await owner.get('/api/place-requests')).json().items).toMatchObject([{ answer: 'waiting' }]);
  });

  test('is for who sees money; and what was answered stays as it is in the database too', async () => {
    const id = await addCourse();
    const { id: requestId } = await request(id);
    expect((await tutor.get('/api/place-requests')).statusCode).toBe(403);
    expect((await tutor.post(`/api/place-requests/${requestId}/decline`, {})).statusCode).toBe(403);
    expect((await owner.post(`/api/place-requests/${requestId}/decline`, {})).json()).toMatchObject({
      answer: 'declined',
    });
    const change = db.placeRequest.update({ where: { id: requestId }, data: { note: 'Otherwise' } });
    expect(sqlState(await change.catch((error) => error))).toBe('WB035');
  });
});

test('a month after a course began, who asked for it is forgotten', async () => {
  const id = await addCourse(); // begins on 14 April
  await request(id);
  expect(await forgetRequests(db, new Date('2026-05-14T12:00:00Z'))).toBe(0);
  expect(await forgetRequests(db, new Date('2026-05-15T12:00:00Z'))).toBe(1);
  expect(await db.placeRequest.count()).toBe(0);
});
