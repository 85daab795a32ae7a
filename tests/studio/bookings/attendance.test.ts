import { randomUUID } from 'node:crypto';
import { beforeEach, describe, expect, test } from 'vitest';
import { testApp } from '../../support/app.js';
import { bookingFixture } from '../../support/fixtures/bookings.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { personFixture } from '../../support/fixtures.js';

const { db, owner, tutor, clock, tutorMember } = await testApp();
const home = await coursesFixture(owner);
const FIRST_EVENING = '2026-04-14T18:30:00Z';
const BEFORE = '2026-03-10T09:00:00Z';

beforeEach(() => clock.set(BEFORE));

/** A course on which somebody has a place, on the evening of its first session. */
async function onTheEvening() {
  const course = await home.addCourse();
  const booking = await bookingFixture(owner, course.id);
  await owner.post('/api/payments', {
    ...{ personId: booking.payerId, method: 'cash', for: [{ chargeId: booking.chargeId, amountMinor: 3000 }] },
  });
  await clock.set(FIRST_EVENING);
  const sessionId = course.sessions[0]?.id ?? '';
  const personId = booking.payerId;
  const note = (body: object, key?: string) =>
    tutor.post(`/api/sessions/${sessionId}/attendance`, { personId, ...body }, key);
  const register = async () => (await tutor.get(`/api/courses/${course.id}/register`)).json().attendance;
  return { course, booking, sessionId, personId, note, register };
}

describe('who came', () => {
  test('is noted by a tutor; what is noted again is appended, and the latest counts', async () => {
    const { sessionId, personId, note, register } = await onTheEvening();
    const answer = await note({ came: true });
    expect(answer.statusCode).toBe(201);
    const entry = { sessionId, personId, came: true, notedAt: '2026-04-14T18:30:00.000Z', notedBy: 'Test tutor' };
    expect(answer.json()).toEqual(entry);
    expect(await register()).toEqual([entry]);

    await note({ came: false });
    expect(await register()).toMatchObject([{ came: false }]);
    await note({ came: null });
    expect(await register()).toEqual([]);
    const all = await db.attendance.findMany({ where: { sessionId }, orderBy: { id: 'asc' } });
    expect(all.map(({ came, notedById }) => [came, notedById])).toEqual(
      [true, false, null].map((came) => [came, tutorMember.id]),
    );
  });

  test('that is sent later counts by when it was noted, and a fast clock is not believed beyond now', async () => {
    const { note, register } = await onTheEvening();
    await clock.set('2026-04-14T20:00:00Z');
    await note({ came: true, notedAt: '2026-04-14T19:00:00Z' });
    await note({ came: false, notedAt: '2026-04-14T18:45:00Z' }); // noted before it, and came after it
    expect(await register()).toMatchObject([{ came: true, notedAt: '2026-04-14T19:00:00.000Z' }]);
    await note({ came: false, notedAt: '2026-04-14T23:00:00Z' });
    expect(await register()).toMatchObject([{ came: false, notedAt: '2026-04-14T20:00:00.000Z' }]);
    await note({ came: true });
    expect(await register()).toMatchObject([{ came: true }]);
  });

  test('is noted once, however often it is sent', async () => {
    const { sessionId, note } = await onTheEvening();
    const key = randomUUID();
    for (let i = 0; i < 3; i++) expect((await note({ came: true }, key)).statusCode).toBe(201);
    expect(await db.attendance.count({ where: { sessionId } })).toBe(1);
  });

  test('is refused before the day of the session, and for somebody without a place', async () => {
    const { course, booking, sessionId, personId, note } = await onTheEvening();
    await clock.set('2026-04-13T22:59:00Z'); // 23:59 by the studio's clock
    const early = await note({ came: true });
    expect([early.statusCode, early.json().type]).toEqual([409, '/problems/session-ahead']);
    expect(early.json().detail).toBe('The session is on Tuesday 14 April 2026. Note who came from that day on.');
    await clock.set('2026-04-13T23:00:00Z');
    expect((await note({ came: true })).statusCode).toBe(201);

    await clock.set(FIRST_EVENING);
    const stranger = await personFixture(owner, 'Nour Haddad');
    const nobody = await note({ came: true, personId: stranger.id });
    expect([nobody.statusCode, nobody.json().type]).toEqual([409, '/problems/no-place']);
    expect(nobody.json().detail).toContain(`Nour Haddad has no place on "${course.title}".`);
    await owner.post(`/api/bookings/${booking.id}/cancellation`, { reason: 'Ill', refundMinor: 0 });
    await clock.set('2026-04-14T18:31:00Z');
    expect((await note({ came: true })).json().type).toBe('/problems/no-place');
    expect((await note({ came: true, notedAt: '2026-04-14T18:20:00Z' })).statusCode).toBe(201); // they still had it then
    expect((await tutor.post(`/api/sessions/${randomUUID()}/attendance`, { personId, came: true })).statusCode).toBe(
      404,
    );
    expect((await tutor.post(`/api/sessions/${sessionId}/attendance`, { personId })).statusCode).toBe(422);
  });
});

describe('the database', () => {
  const entry = (sessionId: string, personId: string, notedAt: Date) => ({
    ...{ id: randomUUID(), sessionId, personId, came: true, notedAt, receivedAt: notedAt, notedById: tutorMember.id },
  });

  test('keeps what was noted as it was', async () => {
    const { sessionId, note } = await onTheEvening();
    await note({ came: true });
    await expect(db.attendance.updateMany({ where: { sessionId }, data: { came: false } })).rejects.toThrow(/WB015/);
    await expect(db.attendance.deleteMany({ where: { sessionId } })).rejects.toThrow(/WB015/);
  });

  test('takes nobody without a place, and nothing long before the session', async () => {
    const { sessionId, personId } = await onTheEvening();
    const stranger = await personFixture(owner, 'Lin Park');
    const now = new Date(FIRST_EVENING);
    await expect(db.attendance.create({ data: entry(sessionId, stranger.id, now) })).rejects.toThrow(/WB016/);
    const dayBefore = new Date('2026-04-13T16:00:00Z');
    await expect(db.attendance.create({ data: entry(sessionId, personId, dayBefore) })).rejects.toThrow(/WB016/);
  });
});
