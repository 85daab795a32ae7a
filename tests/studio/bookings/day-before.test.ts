import { afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { inTransaction } from '../../../src/database/transaction.js';
import { DayBeforeData, dayBeforeLetter } from '../../../src/mail/templates/day-before.js';
import type { Booking } from '../../../src/studio/bookings/contract.js';
import { writeDayBefore } from '../../../src/studio/bookings/day-before/write.js';
import { addMakeUp } from '../../../src/studio/bookings/make-ups/service.js';
import type { Course } from '../../../src/studio/courses/contract.js';
import { testApp } from '../../support/app.js';
import { bookingFixture, payFor } from '../../support/fixtures/bookings.js';
import { coursesFixture } from '../../support/fixtures/courses.js';

const { db, owner, clock, ownerMember } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
});

const MORNING = '2026-03-10T09:00:00Z';
// The course's sessions: 14 April 19:00 and 5 May 19:00, by British Summer Time.
const TEN_THE_DAY_BEFORE = '2026-04-13T09:00:00Z';
const wants = (dayBefore: 'never' | 'first' | 'each') => db.studio.update({ where: { id: 1 }, data: { dayBefore } });
beforeEach(() => wants('first'));
afterEach(async () => {
  await clock.set(MORNING);
  // no test is told of the sessions of another
  await db.$executeRaw`
    INSERT INTO day_before_letter SELECT id, (starts_at AT TIME ZONE 'Europe/London')::date, ${clock.now()} FROM session
        ON CONFLICT DO NOTHING`;
});

const confirmed = async ({ id }: Pick<Course, 'id'>, places = 1, paidMinor?: number): Promise<Booking> => {
  const booking = await bookingFixture(owner, id, places);
  await payFor(owner, booking, paidMinor ?? booking.depositMinor);
  return booking;
};
const write = async (at: string) => {
  await clock.set(at);
  return writeDayBefore(db, clock.now());
};
const letters = async () => {
  const rows = await db.notice.findMany({ where: { occasion: 'dayBefore' }, orderBy: { id: 'asc' } });
  return rows.map(({ personId, data }) => ({ personId, data: DayBeforeData.parse(data) }));
};
const lettersTo = async (personId: string) => (await letters()).filter((letter) => letter.personId === personId);

describe('on the day before', () => {
  test('who has a confirmed place is told when and where, once, with what is still to pay', async () => {
    const course = await home.addCourse({ title: 'Bowls' });
    const { payerId, attendees } = await confirmed(course);
    expect(await write('2026-04-13T07:59:00Z')).toBe(0); // 8:59 by the studio's clock
    expect(await write('2026-04-13T08:00:00Z')).toBe(1);
    expect(await write('2026-04-13T10:00:00Z')).toBe(0);
    const [letter, ...more] = await lettersTo(payerId);
    expect(more).toEqual([]);
    expect(letter?.data).toMatchObject({
      ...{ course: 'Bowls', day: 'Tuesday 14 April 2026', isFirstOfSeveral: true },
      attendees: attendees.map(({ name }) => name),
      sessions: [expect.stringMatching(/^Tuesday 14 April 2026, 19:00 to 21:30, /)],
      balance: [{ amount: '£90', by: expect.any(String) }],
    });
  });

  test('nobody is told two days before, whose deposit has not come, or who cancelled', async () => {
    const course = await home.addCourse({ title: 'Jars' });
    await clock.set('2026-04-12T09:00:00Z');
    const held = await bookingFixture(owner, course.id);
    const gone = await confirmed(course);
    await owner.post(`/api/bookings/${gone.id}/cancellation`, { reason: 'Ill', method: 'cash' });
    const stays = await confirmed(course, 1, 12_000);
    const off = await home.addCourse({ title: 'Off' });
    const { payerId: offFor } = await confirmed(off);
    await owner.post(`/api/sessions/${off.sessions[0]?.id}/cancellation`, { reason: 'Ill' });
    expect(await write('2026-04-12T10:00:00Z')).toBe(0);
    expect(await write(TEN_THE_DAY_BEFORE)).toBe(1);
    for (const { length } of [await lettersTo(held.payerId), await lettersTo(gone.payerId), await lettersTo(offFor)])
      expect(length).toBe(0);
    expect(await lettersTo(stays.payerId)).toMatchObject([{ data: { balance: [] } }]);
  });

  test('a studio that wants none writes none; one that wants each writes before the second too', async () => {
    const course = await home.addCourse({ title: 'Plates' });
    const { payerId } = await confirmed(course);
    await wants('never');
    expect(await write(TEN_THE_DAY_BEFORE)).toBe(0);
    await wants('first');
    expect(await write('2026-05-04T09:00:00Z')).toBe(0);
    await wants('each');
    expect(await write('2026-05-04T09:00:00Z')).toBe(1);
    expect(await lettersTo(payerId)).toMatchObject([
      { data: { day: 'Tuesday 5 May 2026', isFirstOfSeveral: false, sessions: [expect.stringContaining('5 May')] } },
    ]);
  });

  test('where nothing ran in time, it is written on the day, and not once the session has begun', async () => {
    const course = await home.addCourse({ title: 'Tiles' });
    const { payerId } = await confirmed(course);
    expect(await write('2026-04-14T18:00:00Z')).toBe(0); // it begins
    expect(await write('2026-04-14T17:59:00Z')).toBe(1);
    expect(await lettersTo(payerId)).toHaveLength(1);
  });

  test('two that run at once write one letter', async () => {
    const course = await home.addCourse({ title: 'Lids' });
    const { payerId } = await confirmed(course);
    await clock.set(TEN_THE_DAY_BEFORE);
    const both = await Promise.all([writeDayBefore(db, clock.now()), writeDayBefore(db, clock.now())]);
    expect(both.reduce((sum, one) => sum + one)).toBe(1);
    expect(await lettersTo(payerId)).toHaveLength(1);
  });

  test('a session that is moved to another day is written of again', async () => {
    const course = await home.addCourse({ title: 'Spoons' });
    const { payerId } = await confirmed(course);
    expect(await write(TEN_THE_DAY_BEFORE)).toBe(1);
    const [first] = course.sessions;
    const moved = { day: '2026-04-16', from: '19:00', until: '21:30', roomId: first?.roomId, tutorIds: [] };
    const answer = await owner.post(`/api/sessions/${first?.id}/moves`, moved);
    expect(answer.statusCode, answer.body).toBeLessThan(300);
    expect(await write('2026-04-15T09:00:00Z')).toBe(1);
    expect((await lettersTo(payerId)).map(({ data }) => data.day)).toEqual([
      'Tuesday 14 April 2026',
      'Thursday 16 April 2026',
    ]);
  });

  test('who comes on somebody else’s booking and has an address of their own is told without sums', async () => {
    const course = await home.addCourse({ title: 'Cups' });
    const booking = await confirmed(course, 2);
    const [, second] = booking.attendees;
    await db.person.update({ where: { id: second?.personId ?? '' }, data: { email: 'second@example.org' } });
    expect(await write(TEN_THE_DAY_BEFORE)).toBe(1);
    expect(await lettersTo(second?.personId ?? '')).toMatchObject([
      { data: { attendees: [second?.name], balance: [] } },
    ]);
    expect(await lettersTo(booking.payerId)).toMatchObject([{ data: { balance: [{ amount: '£180' }] } }]);
  });

  test('who makes the session up elsewhere is told of that one, and not of the one that they miss', async () => {
    await wants('each');
    const course = await home.addCourse({ title: 'Mugs' });
    const { id: roomId } = (await owner.post('/api/rooms', { name: 'Back room', benches: 20 })).json();
    const there = await home.addCourse({
      title: 'Mugs later',
      sessions: [
        { startsAt: '2026-04-21T19:00:00+01:00', endsAt: '2026-04-21T21:30:00+01:00', roomId },
        { startsAt: '2026-05-12T19:00:00+01:00', endsAt: '2026-05-12T21:00:00+01:00', roomId },
      ],
    });
    const booking = await confirmed(course);
    const wish = {
      ...{ personId: booking.payerId, missedSessionId: course.sessions[0]?.id ?? '' },
      sessionId: there.sessions[0]?.id ?? '',
    };
    await inTransaction(db, (tx) => addMakeUp(tx, clock.now(), { staffMemberId: ownerMember.id }, booking.id, wish));
    expect(await write(TEN_THE_DAY_BEFORE)).toBe(1);
    expect(await lettersTo(booking.payerId)).toEqual([]);
    await write('2026-04-20T09:00:00Z');
    expect(await lettersTo(booking.payerId)).toMatchObject([
      { data: { course: 'Mugs later', day: 'Tuesday 21 April 2026', balance: [], isFirstOfSeveral: false } },
    ]);
  });
});

test('the letter names the day, so that it is right whenever it is read', () => {
  const data = DayBeforeData.parse({
    ...{ course: 'Bowls', day: 'Tuesday 14 April 2026', isFirstOfSeveral: true, attendees: ['Ana Lind'] },
    sessions: ['Tuesday 14 April 2026, 19:00 to 21:30, Long room'],
    balance: [{ amount: '£90', by: '7 April 2026' }],
    ...{ directions: 'Through the yard.', howToPay: 'In cash at the studio.', note: 'Bring an apron.' },
  });
  const studio = { name: 'Alder Lane Pottery', addressLines: ['7 Alder Lane'], email: null, phone: null };
  const { subject, text } = dayBeforeLetter(data, { studio, personName: 'Ana Lind' });
  expect(subject).toBe('Tuesday 14 April 2026: Bowls');
  for (const said of [
    'Through the yard.',
    'Bring an apron.',
    '£90 by 7 April 2026',
    'In cash at the studio.',
    'old clothes',
  ])
    expect(text).toContain(said);
  expect(text).not.toMatch(/tomorrow/i);
});
