import { randomUUID } from 'node:crypto';
import { beforeEach, describe, expect, test } from 'vitest';
import { testApp } from '../../support/app.js';
import { bookingFixture } from '../../support/fixtures/bookings.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { made } from '../../support/fixtures.js';

const { db, owner, tutor, clock, tutorMember, ownerMember } = await testApp();
const home = await coursesFixture(owner);
beforeEach(() => clock.set('2026-03-10T09:00:00Z'));

/** A course on two evenings, 14 April and 5 May, from 19:00, on which so many have a place. */
async function courseWith(bookings: number) {
  const course = await home.addCourse();
  for (let i = 0; i < bookings; i++) await bookingFixture(owner, course.id);
  const [first, second] = course.sessions;
  if (!first || !second) throw new Error('no sessions');
  const wish = { day: '2026-04-16', from: '18:00', until: '20:30', roomId: first.roomId, tutorIds: [] };
  return { course, first, second, wish };
}
const move = (sessionId: string, body: object) => owner.post(`/api/sessions/${sessionId}/moves`, body);
const changesOf = async (courseId: string) => (await tutor.get(`/api/courses/${courseId}/changes`)).json().items;

describe('a session', () => {
  test('is moved: everybody is listed with their letter before it is sent, and it is in the history', async () => {
    const { course, first, wish } = await courseWith(2);
    const letters = await db.notice.count();
    const body = { ...wish, reason: 'Mara is ill on Tuesday.' };
    const seen = (await owner.post(`/api/sessions/${first.id}/moves/preview`, body)).json();
    expect(seen.outcome.concerned).toHaveLength(2);
    expect(seen.letters).toHaveLength(2);
    expect(seen.letters[0]).toMatchObject({ occasion: 'sessionMoved', subject: 'Moved: a session of Two mugs' });
    const text = seen.letters[0].text.replace(/\s+/g, ' ');
    expect(text).toContain('It was to be: Tuesday 14 April 2026, 19:00 to 21:30');
    expect(text).toContain('It is now: Thursday 16 April 2026, 18:00 to 20:30');
    expect(text).toContain('Mara is ill on Tuesday.');
    expect(await db.notice.count()).toBe(letters);

    const answer = await move(first.id, body);
    expect(answer.statusCode).toBe(201);
    expect(answer.json().session).toMatchObject({
      ...{ startsAt: '2026-04-16T17:00:00.000Z', endsAt: '2026-04-16T19:30:00.000Z' },
    });
    expect(await db.notice.count()).toBe(letters + 2);
    expect(await changesOf(course.id)).toMatchObject([
      {
        at: '2026-03-10T09:00:00.000Z',
        madeBy: 'Test owner',
        what: 'Session 1 is now on Thursday 16 April 2026, 18:00 to 20:30. It was to be on Tuesday 14 April 2026, 19:00 to 21:30.',
      },
    ]);
    expect((await tutor.get(`/api/courses/${course.id}/dates`)).json().sessions[0].startsAt).toBe(
      '2026-04-16T17:00:00.000Z',
    );
  });

  test('is told to who comes on somebody else’s booking too, at their own address', async () => {
    const { course, first, wish } = await courseWith(0);
    const { attendees } = await bookingFixture(owner, course.id, 2);
    const { outcome, letters } = (await owner.post(`/api/sessions/${first.id}/moves/preview`, wish)).json();
    expect(outcome).toMatchObject({ concerned: [{}], alsoTold: [{ name: attendees[1]?.name }] });
    expect(letters.map(({ personName }: { personName: string }) => personName)).toEqual(
      attendees.map(({ name }) => name),
    );
    expect(letters[1].text).toContain(`This is for ${attendees[1]?.name}.`);
  });

  test('that is as it was writes neither letter nor history, and other tutors write no letter', async () => {
    const { course, first } = await courseWith(1);
    const letters = await db.notice.count();
    const same = { day: '2026-04-14', from: '19:00', until: '21:30', roomId: first.roomId };
    expect((await move(first.id, { ...same, tutorIds: [] })).json()).toMatchObject({ concerned: [] });
    expect(await changesOf(course.id)).toEqual([]);
    const taught = await move(first.id, { ...same, tutorIds: [tutorMember.id] });
    expect(taught.json()).toMatchObject({ session: { tutors: [{ name: 'Test tutor' }] }, concerned: [] });
    expect((await changesOf(course.id)).map(({ what }: { what: string }) => what)).toEqual([
      'Session 1 is taught by Test tutor, before by nobody.',
    ]);
    expect(await db.notice.count()).toBe(letters);
    // and is free again afterwards
    expect((await move(first.id, { ...same, tutorIds: [] })).json()).toMatchObject({ session: { tutors: [] } });
  });

  test.each([
    ['2026-03-09', '19:00', '21:00', 'That time is over. Choose one that is still to come.'],
    [
      '2026-03-29',
      '01:30',
      '04:00',
      'There is no 01:30 on Sunday 29 March 2026: the clocks go forward then, past that time. Choose 02:30 or another time.',
    ],
    [
      '2026-04-16',
      '22:00',
      '00:30',
      'From 22:00 to 00:30 would go over midnight. A session ends on its own day: choose a later end.',
    ],
    ['2026-04-16', '08:00', '20:01', 'A session is at most 12 hours long. Choose an earlier end.'],
    [
      '2026-05-06',
      '19:00',
      '21:30',
      'Session 2 comes after it: it is on Tuesday 5 May 2026, 19:00 to 21:00. Choose an earlier time, or move that one first.',
    ],
  ])('is not moved to %s, %s to %s', async (day, from, until, sentence) => {
    const { course, first, wish } = await courseWith(1);
    const answer = await move(first.id, { ...wish, day, from, until });
    expect(answer.statusCode, answer.body).toBe(409);
    expect(answer.json()).toMatchObject({ type: '/problems/wrong-time', detail: sentence });
    expect(await changesOf(course.id)).toEqual([]);
  });

  test('is not moved before the one before it, nor before its ware is fired', async () => {
    const { second, wish } = await courseWith(0);
    const early = await move(second.id, { ...wish, roomId: second.roomId, day: '2026-04-14' });
    expect(early.json().detail).toContain('Session 1 comes first: it is on Tuesday 14 April 2026, 19:00 to 21:30.');
    const soon = await move(second.id, { ...wish, roomId: second.roomId, day: '2026-04-16' });
    expect(soon.json().type).toBe('/problems/too-soon');
  });

  test('is not moved where its tutor teaches elsewhere or the room is taken; it does not clash with itself', async () => {
    const { first, wish } = await courseWith(0);
    const other = await courseWith(0);
    const withTutor = { ...wish, tutorIds: [tutorMember.id] };
    expect((await move(first.id, withTutor)).statusCode).toBe(201);
    expect((await move(first.id, { ...withTutor, until: '20:00' })).statusCode).toBe(201);
    const busy = await move(other.first.id, { ...other.wish, tutorIds: [tutorMember.id, ownerMember.id] });
    expect(busy.json()).toMatchObject({ type: '/problems/tutor-busy', sessionId: first.id });
    const small = await made<{ id: string }>(owner, '/api/rooms', { name: 'Small room', benches: 8 });
    expect((await move(first.id, { ...wish, roomId: small.id })).statusCode).toBe(201);
    const full = await move(other.first.id, { ...other.wish, roomId: small.id });
    expect(full.json()).toMatchObject({ type: '/problems/room-full', benchesLeft: 0 });
  });

  test('stays once it has begun, or somebody who came is noted', async () => {
    const { course, first, wish } = await courseWith(1);
    const booking = (await owner.get(`/api/courses/${course.id}/bookings`)).json().items[0];
    await owner.post('/api/payments', {
      ...{ personId: booking.payerId, method: 'cash', for: [{ chargeId: booking.chargeId, amountMinor: 3000 }] },
    });
    await clock.set('2026-04-14T12:00:00Z');
    await owner.post(`/api/sessions/${first.id}/attendance`, { personId: booking.payerId, came: true });
    expect((await move(first.id, wish)).json().detail).toContain('Who came to this session is noted already');
    const earlier = db.session.update({
      where: { id: first.id },
      data: { startsAt: new Date('2026-04-14T17:00:00Z') },
    });
    await expect(earlier).rejects.toThrow(/WB017/);
    await clock.set('2026-04-14T18:00:00Z');
    expect((await move(first.id, wish)).json().type).toBe('/problems/course-over');
    expect((await move(randomUUID(), wish)).statusCode).toBe(404);
    expect((await tutor.post(`/api/sessions/${first.id}/moves`, wish)).statusCode).toBe(403);
  });

  test('is in its order in the database too', async () => {
    const { first } = await courseWith(0);
    const later = { startsAt: new Date('2026-06-01T18:00:00Z'), endsAt: new Date('2026-06-01T20:00:00Z') };
    await expect(db.session.update({ where: { id: first.id }, data: later })).rejects.toThrow(/WB017/);
  });
});

describe('a hold', () => {
  test('never outlasts the beginning of its course: it ends earlier once the first session is moved before it, and the letter says so', async () => {
    const course = await home.addCourse({ holdHours: 720 });
    const held = await bookingFixture(owner, course.id);
    const paid = await bookingFixture(owner, course.id);
    await owner.post('/api/payments', {
      ...{ personId: paid.payerId, method: 'cash', for: [{ chargeId: paid.chargeId, amountMinor: 3000 }] },
    });
    expect(held.heldUntil).toBe('2026-04-09T09:00:00.000Z');
    const [first] = course.sessions;
    const wish = { day: '2026-03-24', from: '19:00', until: '21:30', roomId: first?.roomId, tutorIds: [] };
    const { letters } = (await owner.post(`/api/sessions/${first?.id}/moves/preview`, wish)).json();
    const told = letters.map(({ text }: { text: string }) => text.replace(/\s+/g, ' '));
    const said = 'your place is held only until Tuesday 24 March 2026, 19:00';
    expect(told.filter((text: string) => text.includes(said))).toHaveLength(1); // not who has paid
    expect((await move(first?.id ?? '', wish)).statusCode).toBe(201);
    const until = async (id: string) => (await db.booking.findUniqueOrThrow({ where: { id } })).heldUntil.toISOString();
    expect(await until(held.id)).toBe('2026-03-24T19:00:00.000Z');
    expect(await until(paid.id)).toBe('2026-04-09T09:00:00.000Z');
    const later = { ...wish, day: '2026-03-26' };
    expect((await move(first?.id ?? '', later)).statusCode).toBe(201);
    expect(await until(held.id)).toBe('2026-03-24T19:00:00.000Z'); // it is not made longer again
  });
});

describe('all sessions to come', () => {
  test('get another room and tutor at once, told in one letter, or nothing is changed', async () => {
    const course = await home.addCourse();
    await bookingFixture(owner, course.id);
    const address = `/api/courses/${course.id}/remaining-sessions`;
    const loft = await made<{ id: string; name: string }>(owner, '/api/rooms', { name: 'Loft', benches: 8 });
    const wish = { roomId: loft.id, tutorIds: [tutorMember.id] };
    const seen = (await owner.post(`${address}/preview`, wish)).json();
    expect(seen.letters).toHaveLength(1);
    expect(seen.letters[0].subject).toBe('Moved: sessions of Two mugs');
    const text = seen.letters[0].text.replace(/\s+/g, ' ');
    expect(text).toContain(
      'They are now: Tuesday 14 April 2026, 19:00 to 21:30, Loft Tuesday 5 May 2026, 19:00 to 21:00, Loft',
    );

    const other = await home.addCourse({
      sessions: [
        { startsAt: '2026-05-05T18:30:00Z', endsAt: '2026-05-05T19:00:00Z', roomId: loft.id, benches: 1 },
        { startsAt: '2026-06-05T18:30:00Z', endsAt: '2026-06-05T19:00:00Z', roomId: loft.id, benches: 1 },
      ],
    });
    expect((await owner.post(address, wish)).json().type).toBe('/problems/room-full'); // the second of them
    const before = (await owner.get(`/api/courses/${course.id}/dates`)).json().sessions;
    expect(before.map(({ roomId }: { roomId: string }) => roomId)).not.toContain(loft.id);
    await owner.post(`/api/sessions/${other.sessions[0]?.id}/cancellation`, { reason: 'Nobody comes.' });
    await clock.set('2026-04-15T09:00:00Z');
    const done = await owner.post(address, wish);
    expect(done.statusCode).toBe(201);
    const [over, ahead] = (await owner.get(`/api/courses/${course.id}/dates`)).json().sessions;
    expect([over.roomId === loft.id, over.tutors]).toEqual([false, []]);
    expect([ahead.roomId, ahead.tutors]).toEqual([loft.id, [{ id: tutorMember.id, name: 'Test tutor' }]]);
    expect((await changesOf(course.id)).map(({ what }: { what: string }) => what)).toEqual([
      'All sessions to come are now in Loft.',
      'All sessions to come are taught by Test tutor.',
    ]);
  });
});
