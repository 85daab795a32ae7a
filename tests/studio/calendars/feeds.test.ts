import ical, { type VEvent } from 'node-ical';
import { beforeAll, describe, expect, test } from 'vitest';
import type { CalendarFeed } from '../../../src/studio/calendars/contract.js';
import { testApp } from '../../support/app.js';
import { bookingFixture } from '../../support/fixtures/bookings.js';
import { coursesFixture } from '../../support/fixtures/courses.js';

const { app, db, owner, tutor, tutorMember, clock } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
});

const make = async (
  of: string,
  subjectId: string | null = null,
): Promise<{ address: string; feed: { id: string } }> => {
  const answer = await owner.post('/api/calendar-feeds', { of, subjectId });
  expect(answer.statusCode).toBe(201);
  return answer.json();
};
/** As a calendar asks, which is not signed in. */
const fetched = (address: string) => app.inject({ url: new URL(address).pathname });
const eventsOf = async (address: string): Promise<VEvent[]> =>
  Object.values(ical.sync.parseICS((await fetched(address)).body)).filter(
    (part): part is VEvent => part?.type === 'VEVENT',
  );

describe('a calendar', () => {
  test('of the studio, a room or a tutor has their sessions, with nobody’s name', async () => {
    const course = await home.addCourse({ title: 'Bowls' });
    const booking = await bookingFixture(owner, course.id, 2);
    const [first] = course.sessions;
    await db.sessionTutor.create({
      data: {
        ...{ sessionId: first?.id ?? '', staffMemberId: tutorMember.id },
        ...{ startsAt: first?.startsAt ?? '', endsAt: first?.endsAt ?? '' },
      },
    });
    const studio = await make('studio');
    const ofCourse = (await eventsOf(studio.address)).filter(({ summary }) => String(summary).startsWith('Bowls'));
    expect(ofCourse.map(({ summary, start }) => [summary, start?.toISOString()])).toEqual([
      ['Bowls (1 of 2)', '2026-04-14T18:00:00.000Z'],
      ['Bowls (2 of 2)', '2026-05-05T18:00:00.000Z'],
    ]);
    expect(ofCourse[0]?.description).toContain('2 of 8 places are taken.');
    const file = await fetched(studio.address);
    expect(file.headers['content-type']).toBe('text/calendar; charset=utf-8');
    expect(file.body).not.toContain(booking.payerName);
    const room = await make('room', first?.roomId);
    expect(await eventsOf(room.address)).toHaveLength(2);
    const teaching = await make('tutor', tutorMember.id);
    expect((await eventsOf(teaching.address)).map(({ summary }) => summary)).toEqual(['Bowls (1 of 2)']);
  });

  test('follows a session that is moved: the same UID, a higher SEQUENCE', async () => {
    const course = await home.addCourse({ title: 'Jars' });
    const { address } = await make('room', course.sessions[0]?.roomId);
    const before = await eventsOf(address);
    const [first] = course.sessions;
    const wish = { day: '2026-04-15', from: '18:30', until: '21:00', roomId: first?.roomId, tutorIds: [] };
    expect((await owner.post(`/api/sessions/${first?.id}/moves`, wish)).statusCode).toBeLessThan(300);
    const after = await eventsOf(address);
    expect(after.map(({ uid }) => uid)).toEqual(before.map(({ uid }) => uid));
    expect(after.map(({ sequence }) => Number(sequence))).toEqual([1, 0]);
    expect(after[0]?.start?.toISOString()).toBe('2026-04-15T17:30:00.000Z');
    await owner.put(`/api/courses/${course.id}/particulars`, {
      ...{ title: 'Tall jars', places: 8, minimum: 4, decideOn: null, note: null },
    });
    expect((await eventsOf(address)).map(({ sequence }) => Number(sequence))).toEqual([1, 0]); // nobody need come at another time
  });

  test('is read by its secret alone, until it is renewed or ends', async () => {
    const first = await make('studio');
    const second = await make('studio');
    expect([(await fetched(first.address)).statusCode, (await fetched(second.address)).statusCode]).toEqual([404, 200]);
    expect((await fetched(first.address)).json().detail).toContain('Ask the studio for its new address.');
    const rows = await db.calendarFeed.findMany();
    const secret = new URL(second.address).pathname.split('/').at(-1)?.replace('.ics', '') ?? '';
    expect(secret).toHaveLength(43);
    expect(JSON.stringify(rows)).not.toContain(secret);
    expect(JSON.stringify(await db.requestKey.findMany())).not.toContain(secret);
    const list = async (): Promise<CalendarFeed[]> => (await owner.get('/api/calendar-feeds')).json().items;
    expect((await list()).find(({ of }) => of === 'studio')?.feed?.lastReadAt).not.toBeNull();
    expect((await owner.post(`/api/calendar-feeds/${second.feed.id}/end`, {})).statusCode).toBe(200);
    expect((await fetched(second.address)).statusCode).toBe(404);
    expect((await list()).find(({ of }) => of === 'studio')?.feed).toBeNull();
    expect((await app.inject({ url: '/api/calendars/short.ics' })).statusCode).toBe(404);
  });

  test('is the owner’s to give out, and of something that is there', async () => {
    expect((await tutor.post('/api/calendar-feeds', { of: 'studio', subjectId: null })).statusCode).toBe(403);
    const wrong = { of: 'room', subjectId: tutorMember.id };
    expect((await owner.post('/api/calendar-feeds', wrong)).statusCode).toBe(404);
    expect((await owner.post('/api/calendar-feeds', { of: 'room', subjectId: null })).statusCode).toBe(422);
  });

  test('made twice at once is one', async () => {
    const wish = { of: 'room', subjectId: home.room.id };
    const both = await Promise.all([owner.post('/api/calendar-feeds', wish), owner.post('/api/calendar-feeds', wish)]);
    expect(both.map(({ statusCode }) => statusCode)).toEqual([201, 201]);
    expect(await db.calendarFeed.count({ where: { roomId: home.room.id, endedAt: null } })).toBe(1);
  });

  test('keeps sessions for 60 days, and no longer', async () => {
    const course = await home.addCourse({ title: 'Long ago' });
    const { address } = await make('room', course.sessions[0]?.roomId);
    await clock.set('2026-06-13T12:00:00Z');
    expect(await eventsOf(address)).toHaveLength(2);
    await clock.set('2026-06-14T12:00:00Z');
    expect(await eventsOf(address)).toHaveLength(1);
  });
});
