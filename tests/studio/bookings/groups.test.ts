import { beforeAll, expect, test } from 'vitest';
import type { Booking } from '../../../src/studio/bookings/contract.js';
import type { Plan } from '../../../src/studio/courses/plan-contract.js';
import { testApp } from '../../support/app.js';
import { coursesFixture, planBody } from '../../support/fixtures/courses.js';
import { made, personFixture } from '../../support/fixtures.js';

const { db, owner, tutor } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
let plan: Plan;
beforeAll(async () => {
  home = await coursesFixture(owner);
  const body = { ...planBody(home), kind: 'private', groupOf: 4, minimum: 1, secondTutor: null };
  plan = await made<Plan>(owner, '/api/course-plans', body);
});

// a group of 4 costs 240.00, and each person above it 25.00; at most 8 come
const session = () => home.addCourse({ planId: plan.id, minimum: 1, priceMinor: 24_000, perHeadAboveMinor: 2500 });
const book = (courseId: string, attendeeIds: string[], unnamed?: number) =>
  owner.post(`/api/courses/${courseId}/bookings`, { payerId: attendeeIds[0], attendeeIds, unnamed });
const name = (bookingId: string, ...attendeeIds: string[]) =>
  owner.post(`/api/bookings/${bookingId}/names`, { attendeeIds });

test('a group books with one name; the price, the letter and the register count everybody', async () => {
  const [ana, course] = [await personFixture(owner, 'Ana Ruiz'), await session()];
  const wish = { payerId: ana.id, attendeeIds: [ana.id], unnamed: 5 };
  const seen = (await owner.post(`/api/courses/${course.id}/bookings/preview`, wish)).json();
  expect(seen.letters[0].text).toContain('  Ana Ruiz\n  guest 2\n  guest 3\n  guest 4\n  guest 5\n  guest 6');
  expect(seen.letters[0].text).toContain('6 places');
  const booking: Booking = (await book(course.id, [ana.id], 5)).json();
  expect(booking).toMatchObject({ priceMinor: 24_000 + 2 * 2500, unnamed: 5 }); // six come, two above the group
  const { groups } = (await tutor.get(`/api/courses/${course.id}/register`)).json();
  expect(groups).toEqual([{ bookingId: booking.id, bookedBy: 'Ana Ruiz', unnamed: 5 }]);
  const { items } = (await owner.get('/api/courses?limit=200')).json();
  expect(items.find(({ id }: { id: string }) => id === course.id)).toMatchObject({ placesTaken: 6 });
  expect(await db.charge.findUniqueOrThrow({ where: { id: booking.chargeId } })).toMatchObject({
    description: expect.stringContaining('a group of 6'),
  });
});

test('names follow, at the same price, and are in the history; no more than have none', async () => {
  const [ana, bo, cy, di] = await Promise.all(['Ana', 'Bo', 'Cy', 'Di'].map((one) => personFixture(owner, one)));
  const ids = [ana, bo, cy, di].map((one) => one?.id ?? '') as [string, string, string, string];
  const course = await session();
  const booking: Booking = (await book(course.id, [ids[0]], 2)).json();
  const named: Booking = (await name(booking.id, ids[1])).json();
  expect(named).toMatchObject({ unnamed: 1, priceMinor: booking.priceMinor });
  expect(named.attendees.map((one) => one.name).sort()).toEqual(['Ana', 'Bo']);
  expect((await name(booking.id, ids[2], ids[3])).json()).toMatchObject({
    ...{ type: '/problems/no-place', unnamed: 1 },
    detail: 'Only 1 of this group has no name yet. Name no more than that.',
  });
  expect((await name(booking.id, ids[1])).json().type).toBe('/problems/already-there');
  expect((await name(booking.id, ids[2])).statusCode).toBe(201);
  expect((await name(booking.id, ids[3])).json().detail).toMatch(/^Everybody of this group has a name/);
  const { items } = (await owner.get(`/api/courses/${course.id}/changes`)).json();
  expect(items.map(({ what }: { what: string }) => what)).toEqual([
    'Named in Ana’s group: Bo',
    'Named in Ana’s group: Cy',
  ]);
  expect((await tutor.post(`/api/bookings/${booking.id}/names`, { attendeeIds: [ids[3]] })).statusCode).toBe(403);
});

test('two who name the last guest at once: one of them does', async () => {
  const [ana, bo, cy] = [await personFixture(owner), await personFixture(owner), await personFixture(owner)];
  const booking: Booking = (await book((await session()).id, [ana.id], 1)).json();
  const answers = await Promise.all([name(booking.id, bo.id), name(booking.id, cy.id)]);
  expect(answers.map(({ statusCode }) => statusCode).sort()).toEqual([201, 409]);
});

test('no more than there is room for, and only a private session: in the service and in the database', async () => {
  const [ana, course] = [await personFixture(owner), await session()];
  expect((await book(course.id, [ana.id], 8)).json()).toMatchObject({ type: '/problems/course-full', placesLeft: 8 });
  const open = await home.addCourse();
  expect((await book(open.id, [ana.id], 1)).json()).toMatchObject({ status: 422, errors: [{ pointer: '#/unnamed' }] });
  const { id } = (await book(course.id, [ana.id], 7)).json();
  await expect(db.booking.update({ where: { id }, data: { unnamed: 8 } })).rejects.toThrow(/than there is room for/);
  const other = (await book(open.id, [ana.id])).json();
  const wrong = db.booking.update({ where: { id: other.id }, data: { unnamed: 1 } });
  await expect(wrong).rejects.toThrow(/than there is room for/);
});

test('moved to another private session, the group comes as it was', async () => {
  const ana = await personFixture(owner);
  const [from, to] = [await session(), await session()];
  const booking: Booking = (await book(from.id, [ana.id], 5)).json();
  const moved = (await owner.post(`/api/bookings/${booking.id}/move`, { courseId: to.id })).json();
  expect(moved.booking).toMatchObject({ unnamed: 5, priceMinor: booking.priceMinor });
});
