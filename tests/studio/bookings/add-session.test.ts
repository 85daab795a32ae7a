import { beforeEach, describe, expect, test } from 'vitest';
import type { Plan } from '../../../src/studio/courses/plan-contract.js';
import { testApp } from '../../support/app.js';
import { bookingFixture } from '../../support/fixtures/bookings.js';
import { coursesFixture, planBody } from '../../support/fixtures/courses.js';
import { made } from '../../support/fixtures.js';

const { db, owner, tutor, clock, tutorMember } = await testApp();
const home = await coursesFixture(owner);
beforeEach(() => clock.set('2026-03-10T09:00:00Z'));

const add = (courseId: string, body: object) => owner.post(`/api/courses/${courseId}/sessions`, body);
/** A course on 14 April and 5 May, and a wish for one more evening between them. */
async function courseWith(bookings: number, more: object = {}) {
  const course = await home.addCourse(more);
  for (let i = 0; i < bookings; i++) await bookingFixture(owner, course.id);
  const roomId = course.sessions[0]?.roomId ?? '';
  return {
    course,
    wish: { purpose: 'making', day: '2026-04-21', from: '19:00', until: '21:00', roomId, tutorIds: [] },
  };
}

describe('a session is added', () => {
  test('between two others, and everybody’s letter is seen first', async () => {
    const { course, wish } = await courseWith(2, { title: 'Jars' });
    const notices = await db.notice.count();
    const body = { ...wish, note: 'Instead of the evening that Mara was ill' };
    const { letters, outcome } = (await owner.post(`/api/courses/${course.id}/sessions/preview`, body)).json();
    expect(await db.notice.count()).toBe(notices);
    expect(outcome.concerned).toHaveLength(2);
    const text = letters[0].text.replace(/\s+/g, ' ');
    expect(letters[0].subject).toBe('One more session of Jars');
    expect(text).toContain('Jars has one more session: Tuesday 21 April 2026, 19:00 to 21:00');
    expect(text).toContain(
      'Instead of the evening that Mara was ill. All sessions of the course, as they are now: Tuesday 14 April',
    );
    expect(text).toContain('It costs nothing more.');

    const answer = await add(course.id, { ...body, tutorIds: [tutorMember.id] });
    expect(answer.statusCode, answer.body).toBe(201);
    expect(answer.json().session).toMatchObject({
      ordinal: 2,
      isAdded: true,
      benches: 8,
      tutors: [{ name: 'Test tutor' }],
    });
    const { sessions } = (await tutor.get(`/api/courses/${course.id}/dates`)).json();
    expect(sessions).toMatchObject([
      { ordinal: 1, id: course.sessions[0]?.id },
      { ordinal: 2, purpose: 'making' },
      { ordinal: 3, id: course.sessions[1]?.id, isAdded: false },
    ]);
    const history = (await tutor.get(`/api/courses/${course.id}/changes`)).json().items.at(-1);
    expect(history.what).toMatch(
      /^A session is added: session 2, on Tuesday 21 April 2026, 19:00 to 21:00, Room \d+\.$/,
    );
    expect(await db.notice.count()).toBe(notices + 2);
    // its own part of the price is nothing, and that of the others is as before
    const part = await owner.post(`/api/sessions/${answer.json().session.id}/cancellation/preview`, { reason: 'Ill' });
    expect(part.json().outcome.partMinor).toBe(0);
    const other = await owner.post(`/api/sessions/${course.sessions[1]?.id}/cancellation/preview`, { reason: 'Ill' });
    expect(other.json().outcome.partMinor).toBe(5333);
  });

  test('before, after, and in the place of one that was cancelled', async () => {
    const { course, wish } = await courseWith(0);
    expect((await add(course.id, { ...wish, day: '2026-04-07' })).json().session.ordinal).toBe(1);
    expect((await add(course.id, { ...wish, day: '2026-06-02' })).json().session.ordinal).toBe(4);
    const first = course.sessions[0];
    await owner.post(`/api/sessions/${first?.id}/cancellation`, { reason: 'Ill' });
    expect((await add(course.id, { ...wish, day: '2026-04-14' })).json().session.ordinal).toBe(2);
    const { sessions } = (await tutor.get(`/api/courses/${course.id}/dates`)).json();
    expect(sessions.map(({ startsAt }: { startsAt: string }) => startsAt.slice(5, 10))).toEqual([
      '04-07',
      '04-14',
      '05-05',
      '06-02',
    ]);
  });

  test.each([
    ['2026-03-09', '19:00', '21:00', 'That time is over. Choose one that is still to come.'],
    [
      '2026-04-16',
      '22:00',
      '00:30',
      'From 22:00 to 00:30 would go over midnight. A session ends on its own day: choose a later end.',
    ],
    [
      '2026-03-29',
      '01:30',
      '04:00',
      'There is no 01:30 on Sunday 29 March 2026: the clocks go forward then, past that time. Choose 02:30 or another time.',
    ],
    [
      '2026-04-14',
      '20:00',
      '22:00',
      'Session 1 is at that time already: it is on Tuesday 14 April 2026, 19:00 to 21:30. Choose another time.',
    ],
  ])('but not on %s, %s to %s', async (day, from, until, sentence) => {
    const { course, wish } = await courseWith(0);
    const answer = await add(course.id, { ...wish, day, from, until });
    expect(answer.json()).toMatchObject({ type: '/problems/wrong-time', detail: sentence });
  });

  test('but not before its ware is fired, nor where the tutor or the room is taken', async () => {
    const { course, wish } = await courseWith(0);
    const glazing = await add(course.id, { ...wish, purpose: 'glazing', day: '2026-04-16' });
    expect(glazing.json()).toMatchObject({
      type: '/problems/too-soon',
      detail: expect.stringContaining('Session 2 (glazing)'),
    });
    // one more evening of making, so late that the glazing after it comes too soon
    const late = await add(course.id, { ...wish, day: '2026-05-04' });
    expect(late.json()).toMatchObject({
      type: '/problems/too-soon',
      detail: expect.stringContaining('the ware of session 2'),
    });
    const other = await courseWith(0);
    await add(other.course.id, { ...other.wish, tutorIds: [tutorMember.id] });
    const busy = await add(course.id, { ...wish, tutorIds: [tutorMember.id] });
    expect(busy.json().type).toBe('/problems/tutor-busy');
    const small = await made<{ id: string }>(owner, '/api/rooms', { name: 'Small room', benches: 7 });
    expect((await add(course.id, { ...wish, roomId: small.id })).json().type).toBe('/problems/room-full');
    expect((await tutor.post(`/api/courses/${course.id}/sessions`, wish)).statusCode).toBe(403);
    expect((await tutor.get(`/api/courses/${course.id}/changes`)).json().items).toEqual([]);
  });

  test('but not to open studio, which is sold by the visit', async () => {
    const plan = await made<Plan>(owner, '/api/course-plans', {
      ...{ ...planBody(home), kind: 'openStudio', minimum: 0, pieces: [], firings: [] },
      sessions: [{ purpose: 'making', minutes: 120, prepareMinutes: 10, clearMinutes: 10 }],
    });
    const sessions = [{ ...home.body.sessions[0], benches: 1 }];
    const { course, wish } = await courseWith(0, { planId: plan.id, minimum: 0, depositMinor: 0, sessions });
    expect((await add(course.id, wish)).json().detail).toContain('Open studio is sold by the visit.');
  });

  test('two at one moment at one time: one of them', async () => {
    const { course, wish } = await courseWith(0);
    const answers = await Promise.all([add(course.id, wish), add(course.id, wish)]);
    expect(answers.map(({ statusCode }) => statusCode).sort()).toEqual([201, 409]);
    expect(await db.session.count({ where: { courseId: course.id } })).toBe(3);
  });
});
