import { beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { sqlState } from '../../../src/database/sqlstate.js';
import type { Booking } from '../../../src/studio/bookings/contract.js';
import { testApp } from '../../support/app.js';
import { bookingFixture, payFor } from '../../support/fixtures/bookings.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { made, personFixture } from '../../support/fixtures.js';

const { db, owner, tutor, clock } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
});
beforeEach(() => clock.set('2026-03-10T09:00:00Z'));

const problem = (answer: { json(): { type: string } }) => answer.json().type.replace('/problems/', '');
const change = ({ id }: Booking, personId: string, toPersonId: string, body: object = {}) =>
  owner.post(`/api/bookings/${id}/name-changes`, { personId, toPersonId, ...body });
const letters = async (personId: string) =>
  (await db.notice.findMany({ where: { personId }, orderBy: { id: 'asc' } })).map(({ occasion }) => occasion);
async function confirmed(courseId: string, places: number): Promise<Booking> {
  const booking = await bookingFixture(owner, courseId, places);
  await payFor(owner, booking, booking.depositMinor);
  return booking;
}
const second = ({ attendees }: Booking) => attendees[1]?.personId ?? '';

describe('somebody else comes', () => {
  test('at the same price, and both hear of it; what was paid stays', async () => {
    const { id } = await home.addCourse({ title: 'Bowls', places: 2, minimum: 1 }); // full: no place is taken twice on the way
    const booking = await confirmed(id, 2);
    const instead = await personFixture(owner);
    const seen = await owner.post(`/api/bookings/${booking.id}/name-changes/preview`, {
      ...{ personId: second(booking), toPersonId: instead.id },
    });
    expect(seen.json().letters.map(({ personName }: { personName: string }) => personName)).toEqual([
      booking.attendees[1]?.name,
      instead.name,
    ]);
    const answer = await change(booking, second(booking), instead.id);
    expect(answer.statusCode, answer.body).toBe(201);
    const after: Booking = answer.json().booking;
    expect(after.attendees.map(({ personId }) => personId).sort()).toEqual([booking.payerId, instead.id].sort());
    expect(after).toMatchObject({
      priceMinor: booking.priceMinor,
      paidMinor: booking.depositMinor,
      state: 'confirmed',
    });
    expect(await letters(second(booking))).toEqual(['placeConfirmed', 'bookingCancelled']);
    expect(await letters(instead.id)).toEqual(['placeConfirmed']);
    const { items } = (await owner.get(`/api/courses/${id}/changes`)).json();
    expect(items.at(-1).what).toBe(
      `${instead.name} comes instead of ${booking.attendees[1]?.name}, on ${booking.attendees[0]?.name}’s booking.`,
    );
  });

  test('who had waited for a place waits no more', async () => {
    const { id } = await home.addCourse({ places: 1, minimum: 1 });
    const booking = await confirmed(id, 1);
    const waits = await personFixture(owner);
    await made(owner, `/api/courses/${id}/waiting-list`, { personId: waits.id });
    expect((await change(booking, booking.payerId, waits.id)).statusCode).toBe(201);
    expect(await db.waitingEntry.findFirst({ where: { courseId: id } })).toMatchObject({
      ...{ ended: 'booked', bookingId: booking.id },
    });
  });

  test('nobody who has a place there, nor somebody who is not of the booking, nor the same person', async () => {
    const { id } = await home.addCourse();
    const [booking, other] = [await confirmed(id, 2), await confirmed(id, 1)];
    expect(problem(await change(booking, second(booking), other.payerId))).toBe('already-there');
    expect(problem(await change(booking, second(booking), booking.payerId))).toBe('already-there');
    expect(problem(await change(booking, other.payerId, (await personFixture(owner)).id))).toBe('not-found');
    expect((await change(booking, second(booking), second(booking))).statusCode).toBe(422);
    expect((await tutor.post(`/api/bookings/${booking.id}/name-changes`, {})).statusCode).toBe(403);
  });

  test('not once the course has begun, or the booking has ended', async () => {
    const { id } = await home.addCourse();
    const booking = await confirmed(id, 2);
    const instead = await personFixture(owner);
    await clock.set('2026-04-14T18:00:00Z');
    expect(problem(await change(booking, second(booking), instead.id))).toBe('course-over');
    await clock.set('2026-03-10T09:00:00Z');
    await owner.post(`/api/bookings/${booking.id}/cancellation`, { reason: 'Ill', method: 'cash' });
    expect(problem(await change(booking, second(booking), instead.id))).toBe('already-cancelled');
  });

  test('two who are to come on one place at once: one does', async () => {
    const { id } = await home.addCourse();
    const booking = await confirmed(id, 2);
    const [one, two] = [await personFixture(owner), await personFixture(owner)];
    const answers = await Promise.all([
      change(booking, second(booking), one.id),
      change(booking, second(booking), two.id),
    ]);
    expect(answers.map(({ statusCode }) => statusCode).sort()).toEqual([201, 404]);
    expect(await db.place.count({ where: { bookingId: booking.id } })).toBe(2);
  });

  test('of a course with ages, somebody says that they are of them; the database asks too', async () => {
    const { id } = await home.addCourse();
    const booking = await confirmed(id, 1);
    await db.course.update({ where: { id }, data: { ageFrom: 16 } });
    const instead = await personFixture(owner);
    expect(problem(await change(booking, booking.payerId, instead.id))).toBe('age-limit');
    const past = db.place.updateMany({ where: { bookingId: booking.id }, data: { personId: instead.id } });
    expect(sqlState(await past.catch((error) => error))).toBe('WB025');
    expect((await change(booking, booking.payerId, instead.id, { agesConfirmed: true })).statusCode).toBe(201);
  });
});

test('what the studio notes of a booking stays, the first note first, and a tutor does not read it', async () => {
  const { id } = await home.addCourse();
  const booking = await bookingFixture(owner, id);
  const note = (text: string) => owner.post(`/api/bookings/${booking.id}/notes`, { note: text });
  expect((await note('Comes by the late train')).statusCode).toBe(201);
  await note('Brings her own apron');
  const { items } = (await owner.get(`/api/courses/${id}/booking-notes`)).json();
  expect(items).toMatchObject([
    { bookingId: booking.id, note: 'Comes by the late train', by: 'Test owner', at: '2026-03-10T09:00:00.000Z' },
    { note: 'Brings her own apron' },
  ]);
  expect((await note('')).statusCode).toBe(422);
  expect((await tutor.get(`/api/courses/${id}/booking-notes`)).statusCode).toBe(403);
  const change = db.bookingNote.update({ where: { id: items[0].id }, data: { note: 'Otherwise' } });
  expect(sqlState(await change.catch((error) => error))).toBe('WB015');
});
