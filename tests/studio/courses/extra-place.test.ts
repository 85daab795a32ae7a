import { beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { testApp } from '../../support/app.js';
import { bookingFixture } from '../../support/fixtures/bookings.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { made, personFixture } from '../../support/fixtures.js';

const { owner, tutor, clock } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
});
beforeEach(() => clock.set('2026-03-10T09:00:00Z'));

const extra = (courseId: string, reason = 'Her sister comes too', by = owner) =>
  by.post(`/api/courses/${courseId}/extra-places`, { reason });
const problem = (answer: { json(): { type: string } }) => answer.json().type.replace('/problems/', '');
const roomFor = (benches: number, name: string) => made<{ id: string }>(owner, '/api/rooms', { name, benches });
const sessionsIn = (roomId: string) => [
  { startsAt: '2026-04-14T19:00:00+01:00', endsAt: '2026-04-14T21:30:00+01:00', roomId },
  { startsAt: '2026-05-05T19:00:00+01:00', endsAt: '2026-05-05T21:00:00+01:00', roomId },
];

describe('one more place than was planned', () => {
  test('is for a course that is full, by who may change courses, with a reason that its history keeps', async () => {
    const { id: roomId } = await roomFor(5, 'Room of five');
    const { id } = await home.addCourse({ places: 2, minimum: 1, sessions: sessionsIn(roomId) });
    expect(problem(await extra(id))).toBe('places-left');
    await bookingFixture(owner, id, 2);
    expect((await extra(id, 'Mine', tutor)).statusCode).toBe(403);
    expect((await owner.post(`/api/courses/${id}/extra-places`, { reason: ' ' })).statusCode).toBe(422);
    const answer = await extra(id);
    expect([answer.statusCode, answer.json().places]).toEqual([201, 3]);
    expect(answer.json().sessions.map(({ benches }: { benches: number }) => benches)).toEqual([3, 3]);
    const { items } = (await owner.get(`/api/courses/${id}/changes`)).json();
    expect(items.at(-1)).toMatchObject({
      madeBy: 'Test owner',
      what: 'One more place, 3 in all: Her sister comes too',
    });
    expect(problem(await extra(id))).toBe('places-left'); // one at a time
    await bookingFixture(owner, id);
    const person = await personFixture(owner);
    const wish = { payerId: person.id, attendeeIds: [person.id] };
    expect(problem(await owner.post(`/api/courses/${id}/bookings`, wish))).toBe('course-full');
  });

  test('needs a bench in each session to come', async () => {
    const { id: roomId } = await roomFor(2, 'Room of two');
    const { id } = await home.addCourse({ places: 2, minimum: 1, sessions: sessionsIn(roomId) });
    await bookingFixture(owner, id, 2);
    expect(problem(await extra(id))).toBe('room-full');
    expect((await owner.get(`/api/courses/${id}`)).json().places).toBe(2);
  });

  test('asked for twice at once is one', async () => {
    const { id: roomId } = await roomFor(5, 'Another room of five');
    const { id } = await home.addCourse({ places: 1, minimum: 1, sessions: sessionsIn(roomId) });
    await bookingFixture(owner, id);
    const answers = await Promise.all([extra(id), extra(id)]);
    expect(answers.map(({ statusCode }) => statusCode).sort()).toEqual([201, 409]);
    expect((await owner.get(`/api/courses/${id}`)).json().places).toBe(2);
  });
});
