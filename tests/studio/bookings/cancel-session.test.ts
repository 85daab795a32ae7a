import { beforeAll, beforeEach, describe, expect, test } from 'vitest';
import type { Booking } from '../../../src/studio/bookings/contract.js';
import { testApp } from '../../support/app.js';
import { bookingFixture, payFor } from '../../support/fixtures/bookings.js';
import { cancellingCourses } from '../../support/fixtures/cancelled-courses.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { till } from '../../support/fixtures/vouchers.js';
import { made, personFixture } from '../../support/fixtures.js';

// Two evenings of 150 and 120 minutes, 120.00 in all: by their hours 66.67 and 53.33.
const studio = await testApp();
const { db, owner, tutor, clock, tutorMember } = studio;
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
});
beforeEach(() => clock.set('2026-03-10T09:00:00Z'));
const { get, flat, changes, cancel: cancelCourse } = cancellingCourses(studio);

const WISH = { reason: 'Mara is ill' };
const cancel = (sessionId: string, body: object = WISH) => owner.post(`/api/sessions/${sessionId}/cancellation`, body);
const seen = async (sessionId: string, body: object = WISH) =>
  (await owner.post(`/api/sessions/${sessionId}/cancellation/preview`, body)).json();
async function courseOfTwo(more: object = {}) {
  const course = await home.addCourse(more);
  const [first, second] = course.sessions;
  if (!first || !second) throw new Error('no sessions');
  return { course, first, second };
}

describe('one session is cancelled', () => {
  test('with everybody’s letter seen first; it stays to be seen, and frees its room and tutor', async () => {
    const { course, second } = await courseOfTwo({ title: 'Wide bowls' });
    await bookingFixture(owner, course.id, 2);
    await bookingFixture(owner, course.id);
    const at = { day: '2026-05-05', from: '19:00', until: '21:00', roomId: second.roomId, tutorIds: [tutorMember.id] };
    await owner.post(`/api/sessions/${second.id}/moves`, at);
    const notices = await db.notice.count();
    const { outcome, letters } = await seen(second.id);
    expect(await db.notice.count()).toBe(notices);
    expect(outcome).toMatchObject({ partMinor: 5333, totals: { backMinor: 0 }, alsoTold: [{}] });
    expect(outcome.concerned).toHaveLength(2);
    expect(outcome.warnings).toEqual(['No session for glazing is left. Add one, or glaze for them.']);
    expect(letters).toHaveLength(3); // two payers, and who comes on the first one’s booking
    const text = flat(letters[0].text);
    expect(letters[0].subject).toBe('Cancelled: a session of Wide bowls');
    expect(text).toContain(
      'one session of Wide bowls does not take place. Mara is ill. This session is cancelled: Tuesday 5 May 2026, 19:00 to 21:00',
    );
    expect(text).toContain('The other session takes place: Tuesday 14 April 2026, 19:00 to 21:30');
    expect(text).not.toContain('£');

    expect((await cancel(second.id)).statusCode).toBe(201);
    expect(await db.notice.count()).toBe(notices + 3);
    const dates = (await tutor.get(`/api/courses/${course.id}/dates`)).json();
    expect(dates.sessions.map(({ ordinal }: { ordinal: number }) => ordinal)).toEqual([1]);
    expect(dates.cancelledSessions).toMatchObject([{ ordinal: 2, cancelledBecause: 'Mara is ill', tutors: [] }]);
    expect((await tutor.get(`/api/courses/${course.id}/register`)).json().sessions).toHaveLength(1);
    const history = (await tutor.get(`/api/courses/${course.id}/changes`)).json().items.at(-1);
    expect(history.what).toBe(
      'Session 2, Tuesday 5 May 2026, 19:00 to 21:00, is cancelled: Mara is ill. It was to be taught by Test tutor.',
    );
    expect((await owner.get('/api/today?on=2026-05-05')).body).not.toContain(second.id);
    const again = await owner.post(`/api/sessions/${second.id}/moves`, at);
    expect(again.json().detail).toContain('This session was cancelled before: Mara is ill.');
    const other = await courseOfTwo(); // the tutor is free for another then
    const taught = { ...at, roomId: other.second.roomId };
    expect((await owner.post(`/api/sessions/${other.second.id}/moves`, taught)).statusCode).toBe(201);
    await clock.set('2026-04-15T09:00:00Z'); // all that takes place is over
    expect((await tutor.get(`/api/courses/${course.id}/dates`)).json().state).toBe('over');
  });

  test('as the first one: the course begins with the next', async () => {
    const { course, first } = await courseOfTwo();
    const answer = (await cancel(first.id)).json();
    expect(answer.warnings).toEqual(['No session for making is left, so there is nothing to glaze. Add one.']);
    await clock.set('2026-04-14T20:00:00Z');
    expect((await tutor.get(`/api/courses/${course.id}/dates`)).json().state).toBe('coming');
    const coming = (await tutor.get('/api/courses?state=coming&limit=100')).json().items;
    expect(coming.map(({ id }: { id: string }) => id)).toContain(course.id);
    await bookingFixture(owner, course.id);
  });

  test('but not the last that is left, nor one that has begun or to which somebody came', async () => {
    const { course, first, second } = await courseOfTwo({ title: 'Jars' });
    const booking = await bookingFixture(owner, course.id);
    await payFor(owner, booking, 3000);
    expect((await tutor.post(`/api/sessions/${first.id}/cancellation`, WISH)).statusCode).toBe(403);
    await clock.set('2026-04-14T12:00:00Z');
    const came = (it: boolean | null) =>
      owner.post(`/api/sessions/${first.id}/attendance`, { personId: booking.payerId, came: it });
    await came(true);
    expect((await cancel(first.id)).json().detail).toContain('It is noted that somebody came to this session');
    await clock.set('2026-04-14T12:01:00Z');
    await came(null);
    expect((await cancel(first.id)).statusCode).toBe(201);
    expect((await cancel(first.id)).json().type).toBe('/problems/already-cancelled');
    expect((await came(true)).json().type).toBe('/problems/no-place');
    expect((await cancel(second.id)).json()).toMatchObject({
      ...{ type: '/problems/last-session' },
      detail: 'This is the only session of "Jars" that is left. Cancel the course instead.',
    });
    const past = { cancelledAt: clock.now(), cancelledBecause: 'x' };
    await expect(db.session.update({ where: { id: second.id }, data: past })).rejects.toThrow(/WB020/);
    await clock.set('2026-05-05T18:10:00Z');
    expect((await cancel(second.id)).json().type).toBe('/problems/course-over');
  });
});

describe('what is given back for it', () => {
  test('comes off what is owed, and what is more than that is refunded with its VAT', async () => {
    const { course, second } = await courseOfTwo();
    const [part, nearly, whole, held] = [
      await bookingFixture(owner, course.id),
      await bookingFixture(owner, course.id),
      await bookingFixture(owner, course.id),
      await bookingFixture(owner, course.id),
    ];
    await payFor(owner, part, 3000);
    await payFor(owner, nearly, 10_000);
    await payFor(owner, whole, 12_000);
    const body = { ...WISH, backMinor: 5333 };
    const { outcome, letters } = await seen(second.id, body);
    const moved = await changes(() => cancel(second.id, body));
    expect(outcome.totals).toEqual({ backMinor: 21_332, offMinor: 12_666, refundMinor: 8666, onVoucherMinor: 0 });
    expect(outcome.concerned).toMatchObject([
      { offMinor: 5333, refundMinor: 0, owedMinor: 3667, method: null },
      { offMinor: 2000, refundMinor: 3333, owedMinor: 0, method: 'cash' },
      { offMinor: 0, refundMinor: 5333, owedMinor: 0, method: 'cash' },
      { offMinor: 5333, refundMinor: 0, owedMinor: 6667, method: null },
    ]);
    // of 33.33 and 53.33 paid back, 5.56 and 8.89 is VAT at 20%: a sixth of each payment’s total before and after
    expect(moved).toMatchObject({ cash: -8666, 'billed-in-advance': 12_666, receivable: -12_666 });
    expect((moved['deposits-held'] ?? 0) + (moved.vat ?? 0)).toBe(8666);
    const text = (i: number) => flat(letters[i].text);
    expect(text(0)).toContain(
      'For it we take £53.33 off what was still to pay for your booking. What is still to pay is £36.67.',
    );
    expect(text(1)).toContain(
      'we take £20 off what was still to pay for your booking. There is nothing more to pay. The rest we have refunded to you, £33.33 in cash. Credit note C-',
    );
    expect(text(2)).toContain('For it we have refunded £53.33 to you, in cash. Credit note C-');
    expect(await get(whole)).toMatchObject({ state: 'confirmed', paidMinor: 6667, owedMinor: 0 });
    expect(await get(held)).toMatchObject({ state: 'provisional', depositMinor: 3000, owedMinor: 6667 });
    // and later all that is left goes back, to the penny
    const back = (await cancelCourse(course.id, { reason: 'Broken kiln', cause: 'other' })).json();
    expect(back.totals).toMatchObject({ refundMinor: 3000 + 6667 + 6667, unpaidMinor: 3667 + 6667 });
  });

  test('in proportion for a concession, and on the voucher that paid', async () => {
    const { sell, pay, left } = till(studio, home.standard.id);
    const { course, second } = await courseOfTwo({
      concessions: [{ label: 'Student', priceMinor: 6000 }],
      depositMinor: 0,
    });
    const [one, other] = [await personFixture(owner), await personFixture(owner)];
    const booking = await made<Booking>(owner, `/api/courses/${course.id}/bookings`, {
      ...{ payerId: one.id, attendeeIds: [one.id, other.id] },
      concessions: [{ attendeeId: other.id, concessionId: course.concessions[0]?.id }],
    });
    const voucher = await sell(one.id, 18_000);
    await pay(one.id, booking.chargeId, 18_000, voucher.code);
    // 53.33 and half of it, 26.67 (26.665, rounded half up)
    const answer = (await cancel(second.id, { ...WISH, backMinor: 5333 })).json();
    expect(answer.concerned).toMatchObject([
      { backMinor: 8000, refundMinor: 8000, onVoucherMinor: 8000, method: null },
    ]);
    expect(await left(voucher.id)).toBe(8000);
    // what each place costs is lower now: cancelling the student’s gives back what is left of it
    const rest = await owner.post(`/api/bookings/${booking.id}/cancellation`, {
      reason: 'Ill',
      attendeeIds: [other.id],
    });
    expect(rest.json().places).toMatchObject([{ priceMinor: 6000 - 2667, paidMinor: 3333, refundMinor: 3333 }]);
  });

  test('leaves a confirmed place confirmed, and a deposit never more than what is left of the price', async () => {
    const { course, second } = await courseOfTwo({ depositMinor: 12_000 });
    const paid = await bookingFixture(owner, course.id);
    await payFor(owner, paid, 12_000);
    const held = await bookingFixture(owner, course.id);
    await payFor(owner, held, 6667);
    const notices = await db.notice.count({ where: { personId: held.payerId, occasion: 'placeConfirmed' } });
    await cancel(second.id, { ...WISH, backMinor: 5333, method: 'transfer' });
    expect(await get(paid)).toMatchObject({ state: 'confirmed', depositMinor: 6667, paidMinor: 6667 });
    expect(await get(held)).toMatchObject({ state: 'confirmed', depositMinor: 6667, owedMinor: 0 });
    expect(await db.notice.count({ where: { personId: held.payerId, occasion: 'placeConfirmed' } })).toBe(notices + 1);
  });

  test('is never more than the price, and is given once however often it is sent at the same moment', async () => {
    const { course, second } = await courseOfTwo();
    const booking = await bookingFixture(owner, course.id);
    await payFor(owner, booking, 12_000);
    expect((await cancel(second.id, { ...WISH, backMinor: 12_001 })).json()).toMatchObject({
      ...{ type: '/problems/more-than-owed', detail: 'The price is £120. Give back at most that.' },
      errors: [{ pointer: '#/backMinor' }],
    });
    const moved = await changes(async () => {
      const answers = await Promise.all([1, 2, 3].map(() => cancel(second.id, { ...WISH, backMinor: 5333 })));
      expect(answers.map(({ statusCode }) => statusCode).sort()).toEqual([201, 409, 409]);
    });
    expect(moved.cash).toBe(-5333);
  });

  test('while the course is cancelled and a payment comes: nothing is lost and nothing given back twice', async () => {
    for (let round = 0; round < 4; round++) {
      const { course, second } = await courseOfTwo();
      const booking = await bookingFixture(owner, course.id);
      await payFor(owner, booking, 3000);
      const moved = await changes(async () => {
        const [session, whole] = await Promise.all([
          cancel(second.id, { ...WISH, backMinor: 5333 }),
          cancelCourse(course.id),
          payFor(owner, booking, 9000),
        ]);
        expect(whole.statusCode, whole.body).toBe(201);
        if (session.statusCode !== 201) expect(session.json().type).toBe('/problems/course-over');
      });
      expect(await get(booking)).toMatchObject({ state: 'cancelled', paidMinor: 0, owedMinor: 0 });
      expect(moved.cash).toBe(-3000); // what came and went meanwhile is nothing in all
    }
  });
});
