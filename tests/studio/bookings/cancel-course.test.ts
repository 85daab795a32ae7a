import { beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { testApp } from '../../support/app.js';
import { bookingFixture, payFor } from '../../support/fixtures/bookings.js';
import { cancellingCourses } from '../../support/fixtures/cancelled-courses.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { made, personFixture } from '../../support/fixtures.js';

// The policy of the fixture refunds nothing within 14 days of the start: the studio gives all back all the same.
const studio = await testApp();
const { db, owner, tutor, clock, tutorMember } = studio;
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
});
beforeEach(() => clock.set('2026-03-10T09:00:00Z'));
const { WISH, cancel, seen, get, flat, changes } = cancellingCourses(studio);
const LATE = '2026-04-10T09:00:00Z'; // 4 days before

describe('a course is cancelled as a whole', () => {
  test('with every booking and hold, all that was paid, each letter, and nothing before it is done', async () => {
    const course = await home.addCourse({ title: 'Wide bowls' });
    const paid = await bookingFixture(owner, course.id, 2); // 240.00, of which 90.00 is paid in cash
    await payFor(owner, paid, 9000);
    const held = await bookingFixture(owner, course.id);
    await clock.set(LATE);
    const notices = await db.notice.count();
    const { outcome } = await seen(course.id);
    expect(await db.notice.count()).toBe(notices);
    expect((await get(paid)).state).toBe('confirmed');

    let answer: Awaited<ReturnType<typeof seen>> = null;
    const moved = await changes(async () => {
      answer = (await cancel(course.id)).json();
    });
    expect({ ...answer, course: null }).toEqual({ ...outcome, course: null });
    expect(answer.totals).toEqual({
      people: 3,
      unpaidMinor: 27_000,
      refundMinor: 9000,
      onVoucherMinor: 0,
      keptMinor: 0,
    });
    expect(answer.bookings).toMatchObject([
      {
        payerName: paid.payerName,
        state: 'confirmed',
        paidMinor: 9000,
        unpaidMinor: 15_000,
        refundMinor: 9000,
        method: 'cash',
      },
      {
        payerName: held.payerName,
        state: 'provisional',
        paidMinor: 0,
        unpaidMinor: 12_000,
        refundMinor: 0,
        method: null,
      },
    ]);
    // 75.00 was held with 15.00 of VAT besides; 270.00 was billed and is not asked for any more
    expect(moved).toEqual({
      cash: -9000,
      'deposits-held': 7500,
      vat: 1500,
      'billed-in-advance': 27_000,
      receivable: -27_000,
    });
    for (const booking of [paid, held]) {
      expect(await get(booking)).toMatchObject({
        state: 'cancelled',
        owedMinor: 0,
        paidMinor: 0,
        cancelledBecause: WISH.reason,
      });
    }
    expect(await db.notice.count()).toBe(notices + 3);
  });

  test('and each letter says why, what went back and how', async () => {
    const course = await home.addCourse({ title: 'Wide bowls' });
    const paid = await bookingFixture(owner, course.id, 2);
    await payFor(owner, paid, 9000);
    await bookingFixture(owner, course.id);
    const { letters } = await seen(course.id);
    expect(letters).toHaveLength(3); // who comes on the first booking has an address of their own
    expect(letters[0]).toMatchObject({
      ...{
        personName: paid.payerName,
        occasion: 'courseCancelled',
        fileName: expect.stringMatching(/^credit-note-c-/),
      },
      subject: 'Cancelled: Wide bowls, 14 April 2026 to 5 May 2026',
    });
    expect(flat(letters[0].text)).toContain(
      'Wide bowls, 14 April 2026 to 5 May 2026, does not take place. Only two have booked.',
    );
    expect(flat(letters[0].text)).toContain(
      'We have refunded all that you paid for it, £90, in cash. There is nothing more to pay.',
    );
    expect(flat(letters[1].text)).toContain('There is nothing to pay.');
  });

  test('frees its sessions, tutors and materials, and is in lists as cancelled', async () => {
    const course = await home.addCourse({ title: 'Jars' });
    await bookingFixture(owner, course.id);
    const [first] = course.sessions;
    const taught = {
      day: '2026-04-14',
      from: '19:00',
      until: '21:30',
      roomId: first?.roomId,
      tutorIds: [tutorMember.id],
    };
    expect((await owner.post(`/api/sessions/${first?.id}/moves`, taught)).statusCode).toBe(201);
    const outlook = async () => (await owner.get('/api/outlook')).body.includes(course.id);
    const before = await outlook();
    const loads = async () => (await owner.get(`/api/courses/${course.id}/kiln-loads`)).json().loads.length;
    expect(await loads()).toBeGreaterThan(0);
    const answer = (await cancel(course.id)).json();
    expect(answer.freed.sessions).toMatchObject([{ tutors: ['Test tutor'] }, { tutors: [] }]);
    expect(answer.freed.materials).toEqual([home.clay.name, home.glaze.name]);
    expect(await loads()).toBe(0);
    expect(await outlook()).toBe(false);
    expect(before).toBe(true);

    const listed = (await tutor.get(`/api/courses/${course.id}/dates`)).json();
    expect(listed).toMatchObject({
      ...{ state: 'cancelled', placesTaken: 0 },
      cancelled: { at: '2026-03-10T09:00:00.000Z', cause: 'tooFew', because: WISH.reason },
      sessions: [
        { cancelledBecause: WISH.reason, tutors: [] },
        { cancelledBecause: WISH.reason, tutors: [] },
      ],
    });
    const ids = async (query: string) =>
      (await tutor.get(`/api/courses?${query}&limit=100`)).json().items.map(({ id }: { id: string }) => id);
    expect(await ids('state=cancelled')).toContain(course.id);
    expect(await ids('is=ahead')).not.toContain(course.id);
    const history = (await tutor.get(`/api/courses/${course.id}/changes`)).json().items.at(-1);
    expect(history).toMatchObject({
      madeBy: 'Test owner',
      what: 'The course is cancelled: Only two have booked. One person had a place. Nothing had been paid.',
    });
    // the room and the tutor are free for another at the same time
    const room = await made<{ id: string }>(owner, '/api/rooms', { name: 'Just eight', benches: 8 });
    const at = (i: number) => ({ ...home.body.sessions[i], roomId: room.id, tutorIds: [tutorMember.id] });
    const again = await home.addCourse({ title: 'Jars again', sessions: [at(0), at(1)] });
    expect((await cancel(again.id, { ...WISH, cause: 'other' })).statusCode).toBe(201);
    await home.addCourse({ title: 'Jars a third time', sessions: [at(0), at(1)] });
  });

  test('and nothing more is done with it', async () => {
    const course = await home.addCourse();
    const booking = await bookingFixture(owner, course.id);
    await cancel(course.id);
    const { id } = await personFixture(owner);
    const refused = await Promise.all([
      owner.post(`/api/courses/${course.id}/bookings`, { payerId: id, attendeeIds: [id] }),
      owner.post(`/api/courses/${course.id}/waiting-list`, { personId: id }),
      owner.post(`/api/courses/${course.id}/waiting-list/offers`, {}),
      owner.post(`/api/courses/${course.id}/completion`, {}),
      owner.post(`/api/sessions/${course.sessions[0]?.id}/moves`, {
        ...{ day: '2026-04-16', from: '18:00', until: '20:00', roomId: home.room.id, tutorIds: [] },
      }),
    ]);
    for (const answer of refused) {
      expect(answer.json().type, answer.body).toBe('/problems/course-over');
      expect(answer.json().detail).toContain('was cancelled: Only two have booked.');
    }
    expect((await cancel(course.id)).json()).toMatchObject({
      ...{ type: '/problems/already-cancelled' },
      detail: '"Two mugs" was cancelled before, on 10 March 2026. Nothing was changed.',
    });
    await clock.set('2026-04-14T18:10:00Z');
    const came = { personId: booking.payerId, came: true };
    const register = await owner.post(`/api/sessions/${course.sessions[0]?.id}/attendance`, came);
    expect(register.json().type).toBe('/problems/no-place');
    expect((await owner.get(`/api/today?on=2026-04-14`)).body).not.toContain(course.id);
  });

  test('only while nothing of it has taken place, and as what it is', async () => {
    const course = await home.addCourse({ minimum: 2 });
    await bookingFixture(owner, course.id, 2);
    const enough = (await cancel(course.id)).json();
    expect(enough).toMatchObject({
      ...{ type: '/problems/enough-booked', errors: [{ pointer: '#/cause' }] },
      detail: '2 places are booked or held, and the minimum is 2, so there are not too few. Choose the other cause.',
    });
    expect((await tutor.post(`/api/courses/${course.id}/cancellation`, WISH)).statusCode).toBe(403);
    await clock.set('2026-04-14T18:10:00Z');
    expect((await cancel(course.id, { ...WISH, cause: 'other' })).json()).toMatchObject({
      type: '/problems/course-over',
      detail: expect.stringContaining('Session 1 has taken place, on Tuesday 14 April 2026, 19:00 to 21:30'),
    });
    await clock.set('2026-05-06T09:00:00Z');
    expect((await cancel(course.id, { ...WISH, cause: 'other' })).json().detail).toBe(
      '"Two mugs" has taken place. Complete it instead; a refund is given by cancelling a booking first.',
    );
    await owner.post(`/api/courses/${course.id}/completion`, {});
    expect((await cancel(course.id, { ...WISH, cause: 'other' })).json().detail).toContain(
      'was completed on 6 May 2026',
    );
  });
});
