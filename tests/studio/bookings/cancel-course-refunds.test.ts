import { beforeAll, beforeEach, describe, expect, test } from 'vitest';
import type { Booking } from '../../../src/studio/bookings/contract.js';
import type { Plan } from '../../../src/studio/courses/plan-contract.js';
import { testApp } from '../../support/app.js';
import { bookingFixture, payFor } from '../../support/fixtures/bookings.js';
import { cancellingCourses } from '../../support/fixtures/cancelled-courses.js';
import { coursesFixture, planBody } from '../../support/fixtures/courses.js';
import { till } from '../../support/fixtures/vouchers.js';
import { made, personFixture } from '../../support/fixtures.js';

const studio = await testApp();
const { owner, clock } = studio;
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
});
beforeEach(() => clock.set('2026-03-10T09:00:00Z'));
const { WISH, cancel, seen, get, flat, changes } = cancellingCourses(studio);
const LATE = '2026-04-10T09:00:00Z'; // 4 days before
const named = async (name: string, email: string | null) => made<{ id: string }>(owner, '/api/people', { name, email });

describe('what was paid goes back', () => {
  test('on the voucher that paid it, and the rest as it was paid last', async () => {
    const { sell, pay, left } = till(studio, home.standard.id);
    const course = await home.addCourse();
    const booking = await bookingFixture(owner, course.id);
    const voucher = await sell(booking.payerId, 5000);
    await pay(booking.payerId, booking.chargeId, 5000, voucher.code);
    await pay(booking.payerId, booking.chargeId, 4000);
    const { letters } = await seen(course.id);
    expect(flat(letters[0].text)).toContain(
      `We have refunded all that you paid for it, £90: £40 to your card £50 on your voucher ${voucher.code}`,
    );
    const answer = (await cancel(course.id)).json();
    expect(answer.bookings).toMatchObject([{ refundMinor: 9000, onVoucherMinor: 5000, method: 'card' }]);
    expect(await left(voucher.id)).toBe(5000);
  });

  test('by one way for all where the owner says so', async () => {
    const course = await home.addCourse();
    const booking = await bookingFixture(owner, course.id);
    await payFor(owner, booking, 3000);
    const moved = await changes(() => cancel(course.id, { ...WISH, method: 'transfer' }));
    expect(moved).toMatchObject({ bank: -3000 });
  });

  test('also of what was carried over from another course, as its payer paid there', async () => {
    const [from, to] = [await home.addCourse(), await home.addCourse()];
    const booking = await bookingFixture(owner, from.id);
    await payFor(owner, booking, 3000);
    const moved = await owner.post(`/api/bookings/${booking.id}/move`, { courseId: to.id });
    expect(moved.statusCode, moved.body).toBe(201);
    const answer = (await cancel(to.id)).json();
    expect(answer.bookings).toMatchObject([{ refundMinor: 3000, method: 'cash' }]);
  });

  test('at a concession and in instalments: the balance is not asked for any more', async () => {
    const course = await home.addCourse({
      concessions: [{ label: 'Student', priceMinor: 6000 }],
      ...{ balancePayments: 3, balanceEveryDays: 7 },
    });
    const [one, other] = [await personFixture(owner), await personFixture(owner)];
    const booking = await made<Booking>(owner, `/api/courses/${course.id}/bookings`, {
      ...{ payerId: one.id, attendeeIds: [one.id, other.id] },
      concessions: [{ attendeeId: other.id, concessionId: course.concessions[0]?.id }],
    });
    expect(booking.instalments).toHaveLength(4);
    await payFor(owner, booking, 7333);
    const answer = (await cancel(course.id)).json();
    expect(answer.totals).toMatchObject({ refundMinor: 7333, unpaidMinor: 18_000 - 7333 });
    expect((await owner.get('/api/debtors')).body).not.toContain(booking.payerId);
  });

  test('for the places that were left; what was kept of one that was cancelled before stays kept', async () => {
    const course = await home.addCourse();
    const booking = await bookingFixture(owner, course.id, 2);
    await payFor(owner, booking, 24_000);
    await clock.set('2026-03-20T09:00:00Z'); // half goes back
    const one = { reason: 'Ill', method: 'card', attendeeIds: [booking.attendees[1]?.personId] };
    await owner.post(`/api/bookings/${booking.id}/cancellation`, one);
    await clock.set(LATE);
    const { letters } = await seen(course.id);
    expect(flat(letters[0].text)).toContain(
      'We have refunded all that you paid for the places that were left, £120, in cash. What was kept of a place that was cancelled before, £60, stays as it was.',
    );
    const moved = await changes(() => cancel(course.id));
    // 120.00 goes back; what was kept, 60.00, is income now that nothing follows it
    expect(moved).toEqual({ cash: -12_000, 'deposits-held': 15_000, vat: 2000, 'course-income': -5000 });
    expect(await get(booking)).toMatchObject({ state: 'cancelled', paidMinor: 6000, owedMinor: 0 });
    await clock.set('2026-04-20T09:00:00Z');
    expect((await get(booking)).refundDueMinor).toBe(0);
  });

  test('of a private session and of open studio', async () => {
    const plan = { ...planBody(home), kind: 'private', groupOf: 4, minimum: 1, soldAt: [] };
    const group = await made<Plan>(owner, '/api/course-plans', plan);
    const session = await home.addCourse({ planId: group.id, minimum: 1, perHeadAboveMinor: 1000 });
    const booking = await bookingFixture(owner, session.id, 5);
    await payFor(owner, booking, 13_000);
    const answer = (await cancel(session.id, { ...WISH, cause: 'other' })).json();
    expect(answer.totals).toMatchObject({ people: 5, refundMinor: 13_000, unpaidMinor: 0 });
    const visits = await made<Plan>(owner, '/api/course-plans', {
      ...{ ...planBody(home), kind: 'openStudio', minimum: 0, pieces: [], firings: [] },
      sessions: [{ purpose: 'making', minutes: 120, prepareMinutes: 10, clearMinutes: 10 }],
    });
    const sessions = [{ ...home.body.sessions[0], benches: 1 }];
    const bench = await home.addCourse({ planId: visits.id, minimum: 0, depositMinor: 0, sessions });
    const visit = await bookingFixture(owner, bench.id);
    await payFor(owner, visit, 12_000);
    expect((await cancel(bench.id)).json().type).toBe('/problems/enough-booked');
    expect((await cancel(bench.id, { ...WISH, cause: 'other' })).json().totals).toMatchObject({ refundMinor: 12_000 });
  });
});

describe('everybody is told', () => {
  test('those who wait or have an offer, and who comes on somebody else’s booking by their own address', async () => {
    const course = await home.addCourse({ title: 'Plates', places: 4, minimum: 4 });
    await home.addCourse({ title: 'More plates' });
    const ids = [
      await named('Vera Holt', 'vera@example.org'),
      await named('Own Address', 'own@example.org'),
      await named('Same Address', 'VERA@example.org'),
      await named('Cancels First', null),
    ].map(({ id }) => id);
    const booking = { payerId: ids[0], attendeeIds: ids };
    const { id: bookingId } = await made<Booking>(owner, `/api/courses/${course.id}/bookings`, booking);
    const [first, second] = [await named('First Waiting', null), await named('Second Waiting', null)];
    for (const { id } of [first, second]) await made(owner, `/api/courses/${course.id}/waiting-list`, { personId: id });
    await owner.post(`/api/bookings/${bookingId}/cancellation`, { reason: 'Ill', attendeeIds: [ids[3]] });
    expect((await owner.post(`/api/courses/${course.id}/waiting-list/offers`, {})).statusCode).toBe(201);

    const { outcome, letters } = await seen(course.id);
    expect(outcome.alsoTold).toMatchObject([{ name: 'Own Address' }]);
    expect(outcome.waiting).toMatchObject([
      { name: 'First Waiting', wasOffered: true },
      { name: 'Second Waiting', wasOffered: false },
    ]);
    const textTo = (name: string) =>
      flat(letters.find(({ personName }: { personName: string }) => personName === name)?.text ?? '');
    expect(letters).toHaveLength(4);
    expect(textTo('Vera Holt')).toContain('This is for Vera Holt, Own Address, Same Address.');
    expect(textTo('Vera Holt')).toMatch(/These courses have places left: .*, from .*: \d+ places left/);
    expect(textTo('Own Address')).toContain('We have written to the person who booked for you about what was paid.');
    expect(textTo('Own Address')).not.toMatch(/£|nothing to pay/);
    expect(textTo('First Waiting')).toContain('the place that we offered you is no longer kept for you');
    expect(textTo('Second Waiting')).toContain('So you are no longer on the waiting list.');
    await cancel(course.id);
    const list = (await owner.get(`/api/courses/${course.id}/waiting-list`)).json();
    expect(list.waiting).toEqual([]);
    expect(list.ended.map(({ ended }: { ended: string }) => ended)).toEqual(['courseCancelled', 'courseCancelled']);
  });
});
