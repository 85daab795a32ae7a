import { randomUUID } from 'node:crypto';
import { afterEach, beforeAll, describe, expect, test } from 'vitest';
import { sqlState } from '../../../src/database/sqlstate.js';
import { inTransaction } from '../../../src/database/transaction.js';
import { letterFor } from '../../../src/mail/letters.js';
import type { Booking } from '../../../src/studio/bookings/contract.js';
import type { Plan } from '../../../src/studio/courses/plan-contract.js';
import { testApp } from '../../support/app.js';
import { bookingFixture, payFor } from '../../support/fixtures/bookings.js';
import { coursesFixture, planBody } from '../../support/fixtures/courses.js';
import { givingUp } from '../../support/fixtures/given-up.js';
import { made, personFixture } from '../../support/fixtures.js';

// The policy of the fixture: all back from 28 days before the start, half from 14, and 5.00 kept where the place is filled again.
const studio = await testApp();
const { db, owner, clock } = studio;
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
});
const HALF = '2026-03-20T09:00:00Z'; // 25 days before
const LATE = '2026-04-10T09:00:00Z'; // 4 days before
const { addCourse, confirmed, due, payBack, letters } = givingUp(studio, () => home);
afterEach(() => clock.set('2026-03-10T09:00:00Z'));

const cancel = (id: string, attendeeIds: string[] | undefined, body: object = {}) =>
  owner.post(`/api/bookings/${id}/cancellation`, { reason: 'Moved away', method: 'card', attendeeIds, ...body });
const get = async ({ id }: Pick<Booking, 'id'>): Promise<Booking> => (await owner.get(`/api/bookings/${id}`)).json();
const who = ({ attendees }: Booking, i: number) => attendees[i]?.personId ?? '';
const balance = async (code: string) => {
  const { items } = (await owner.get('/api/account-balances')).json();
  return items.find((account: { code: string }) => account.code === code).balanceMinor;
};
/** The letter of an occasion to the payer, as it is read. */
async function letterTo(personId: string, occasion: 'refund' | 'placeCancelled' | 'placeConfirmed') {
  const { data } = await db.notice.findFirstOrThrow({ where: { personId, occasion }, orderBy: { id: 'desc' } });
  const from = { name: 'Alder Lane Pottery', addressLines: [], email: null, phone: null };
  return letterFor(occasion, data, { studio: from, personName: 'you' }).text.replaceAll(/\s+/g, ' ');
}

describe('one of two places is cancelled', () => {
  test('with its half of the deposit by the tiers, and the other stays as it was', async () => {
    const codes = ['deposits-held', 'billed-in-advance', 'vat', 'course-income', 'card', 'cash'];
    const now = async () => Promise.all(codes.map(balance));
    const start = await now();
    const booking = await confirmed(await addCourse(2), 2);
    await clock.set(HALF);
    const wish = { reason: 'Ill', method: 'card', attendeeIds: [who(booking, 1)] };
    const seen = await owner.post(`/api/bookings/${booking.id}/cancellation/preview`, wish);
    expect(seen.json().letters).toMatchObject([
      { occasion: 'refund' },
      { occasion: 'bookingCancelled', personId: who(booking, 1) },
    ]);
    expect((await get(booking)).attendees).toHaveLength(2);

    const answer = (await cancel(booking.id, [who(booking, 1)])).json();
    // 60.00 was paid for two places of 120.00: 30.00 for each, of which half goes back
    const place = {
      personId: who(booking, 1),
      priceMinor: 12_000,
      paidMinor: 3000,
      refundMinor: 1500,
      keptMinor: 1500,
    };
    expect(answer).toMatchObject({ refundMinor: 1500, keptMinor: 1500, furtherMinor: 1000, places: [place] });
    expect(seen.json().outcome.places).toEqual(answer.places);
    expect(answer.booking).toMatchObject({
      ...{ state: 'confirmed', attendees: [{ personId: who(booking, 0) }], paidMinor: 4500, owedMinor: 9000 },
      cancelledPlaces: [{ personId: who(booking, 1), because: 'Moved away', refundMinor: 1500, keptMinor: 1500 }],
    });
    // 45.00 is held with its VAT of 7.50 taken off, 90.00 is still billed; nothing is income before the course
    expect((await now()).map((after, i) => after - (start[i] ?? 0))).toEqual([-3750, -9000, -750, 0, -1500, 6000]);
    const text = await letterTo(booking.payerId, 'refund');
    expect(text).toContain(`${booking.attendees[1]?.name}’s place is cancelled.`);
    expect(text).toContain(`${booking.attendees[0]?.name}’s place stays booked.`);
  });

  test('frees a place for somebody else, and leaves the one who stays on the register', async () => {
    const course = await addCourse(2);
    const booking = await bookingFixture(owner, course, 2);
    await expect(bookingFixture(owner, course)).rejects.toThrow('course-full');
    await cancel(booking.id, [who(booking, 0)]);
    const other = await bookingFixture(owner, course);
    await expect(bookingFixture(owner, course)).rejects.toThrow('course-full');
    const { people } = (await owner.get(`/api/courses/${course}/register`)).json();
    expect(people.map(({ personId }: { personId: string }) => personId).sort()).toEqual(
      [who(booking, 1), who(other, 0)].sort(),
    );
    // who is gone finds the booking still, and may come back
    const found = (await owner.get(`/api/bookings?personId=${who(booking, 0)}`)).json();
    expect(found.items.map(({ id }: Booking) => id)).toEqual([booking.id]);
    await cancel(other.id, undefined);
    const again = { payerId: who(booking, 0), attendeeIds: [who(booking, 0)] };
    expect((await owner.post(`/api/courses/${course}/bookings`, again)).statusCode).toBe(201);
  });

  test('while both are only held: half the deposit keeps the other, and nothing is refunded', async () => {
    const booking = await bookingFixture(owner, await addCourse(4), 2);
    const answer = (await cancel(booking.id, [who(booking, 1)])).json();
    expect(answer).toMatchObject({
      ...{ refundMinor: 0, keptMinor: 0, furtherMinor: 0 },
      booking: { state: 'provisional', depositMinor: 3000, owedMinor: 12_000, heldUntil: booking.heldUntil },
    });
    const text = await letterTo(booking.payerId, 'placeCancelled');
    expect(text).toContain('please pay the deposit of £30 by then');
    expect(text).toContain('What is still to pay in all is £120.');
    await payFor(owner, booking, 2999);
    expect((await get(booking)).state).toBe('provisional');
    await payFor(owner, booking, 1);
    expect((await get(booking)).state).toBe('confirmed');
  });

  test('what is kept of it pays no deposit of the other', async () => {
    const booking = await bookingFixture(owner, await addCourse(4), 2);
    await payFor(owner, booking, 3000); // of 60.00: 15.00 for each
    await clock.set('2026-03-11T09:00:00Z');
    const answer = (await cancel(booking.id, [who(booking, 1)], { refundMinor: 0 })).json();
    expect(answer).toMatchObject({ keptMinor: 1500, booking: { state: 'provisional', owedMinor: 10_500 } });
    await payFor(owner, booking, 1499);
    expect((await get(booking)).state).toBe('provisional');
    await payFor(owner, booking, 1);
    expect((await get(booking)).state).toBe('confirmed');
  });

  test('at a concession: what was paid is shared by price', async () => {
    const concessions = [{ label: 'Student', priceMinor: 6000 }];
    const course = await home.addCourse({ concessions, depositMinor: 0 });
    const [one, other] = [await personFixture(owner), await personFixture(owner)];
    const booking = await made<Booking>(owner, `/api/courses/${course.id}/bookings`, {
      ...{ payerId: one.id, attendeeIds: [one.id, other.id] },
      concessions: [{ attendeeId: other.id, concessionId: course.concessions[0]?.id }],
    });
    await payFor(owner, booking, 10_000);
    // 100.00 of 180.00 is paid, so 33.33 of the student's 60.00 and 66.67 of the other 120.00
    const answer = (await cancel(booking.id, [other.id])).json();
    expect(answer.places).toMatchObject([{ priceMinor: 6000, paidMinor: 3333, refundMinor: 3333 }]);
    expect(answer.booking).toMatchObject({ paidMinor: 6667, owedMinor: 12_000 - 6667 });
  });

  test('then the other: the last place is the whole booking, and each pays back its own', async () => {
    const booking = await confirmed(await addCourse(4), 2);
    await clock.set(HALF);
    await cancel(booking.id, [who(booking, 1)]);
    const answer = (await cancel(booking.id, [who(booking, 0)])).json();
    expect(answer).toMatchObject({
      ...{ refundMinor: 1500, keptMinor: 1500 },
      booking: { state: 'cancelled', paidMinor: 3000, owedMinor: 0 },
    });
    const refused = (await cancel(booking.id, undefined, { refundMinor: 100 })).json();
    expect(refused.type).toBe('/problems/already-cancelled');
  });

  test('of a private session: those beyond the group cost something of their own', async () => {
    const plan = await made<Plan>(owner, '/api/course-plans', { ...planBody(home), kind: 'private', groupOf: 2 });
    const course = await addCourse(6, { planId: plan.id, perHeadAboveMinor: 2500, minimum: 2, depositMinor: 0 });
    const booking = await bookingFixture(owner, course, 3); // 120.00 for two, and 25.00
    const first = (await cancel(booking.id, [who(booking, 0)])).json();
    expect(first.booking).toMatchObject({ owedMinor: 12_000, state: 'confirmed' });
    const second = (await cancel(booking.id, [who(booking, 1)])).json();
    expect(second.booking).toMatchObject({ owedMinor: 12_000, attendees: [{ personId: who(booking, 2) }] });
  });
});

describe('a place given up beside one that stays', () => {
  test('is filled again, and the rest goes back but the fee, once for a booking', async () => {
    const course = await addCourse(3);
    const booking = await confirmed(course, 3);
    await clock.set(LATE);
    expect((await cancel(booking.id, [who(booking, 1)])).json()).toMatchObject({ keptMinor: 3000, furtherMinor: 2500 });
    expect((await cancel(booking.id, [who(booking, 2)])).json()).toMatchObject({ keptMinor: 3000, furtherMinor: 3000 });
    await confirmed(course);
    expect(await due(booking)).toBe(2500);
    await confirmed(course);
    expect(await due(booking)).toBe(5500);
    expect((await letters(booking)).map(({ amount }) => amount)).toEqual(['£25', '£30']);
    expect((await payBack(booking)).json()).toMatchObject({ refundMinor: 5500 });
    // 90.00 was paid, 5.00 is kept and 30.00 is for the place that stays, which is as confirmed as before
    expect(await get(booking)).toMatchObject({ state: 'confirmed', paidMinor: 3500, owedMinor: 9000 });
    const more = (await cancel(booking.id, undefined, { refundMinor: 3001 })).json();
    expect(more).toMatchObject({ type: '/problems/more-than-owed', paidMinor: 3000 });
  });
});

describe('cancelling places is refused', () => {
  test('twice, for somebody who has none, and beyond what was paid for them', async () => {
    const booking = await confirmed(await addCourse(4), 2);
    const tooMuch = (await cancel(booking.id, [who(booking, 1)], { refundMinor: 3001 })).json();
    expect(tooMuch).toMatchObject({ type: '/problems/more-than-owed', paidMinor: 3000 });
    expect((await cancel(booking.id, [randomUUID()])).json()).toMatchObject({ type: '/problems/not-found' });
    const twice = await cancel(booking.id, [who(booking, 1), who(booking, 1)]);
    expect(twice.statusCode).toBe(422);
    await cancel(booking.id, [who(booking, 1)]);
    const again = (await cancel(booking.id, [who(booking, 1)])).json();
    expect(again).toMatchObject({ type: '/problems/already-cancelled' });
    expect(again.detail).toContain('Moved away');
  });

  test('but one of many at once, which pays back once', async () => {
    const booking = await confirmed(await addCourse(4), 3);
    const answers = await Promise.all(Array.from({ length: 8 }, () => cancel(booking.id, [who(booking, 2)])));
    expect(answers.filter(({ statusCode }) => statusCode === 201)).toHaveLength(1);
    expect(await get(booking)).toMatchObject({ paidMinor: 6000, owedMinor: 18_000 });
    expect(await db.cancelledPlace.count({ where: { bookingId: booking.id } })).toBe(1);
  });

  test('by the database, where a place would vanish or a booking be left without one', async () => {
    const booking = await bookingFixture(owner, await addCourse(4), 2);
    const code = (work: Promise<unknown>) => work.then(() => null, sqlState);
    const one = { bookingId: booking.id, personId: who(booking, 1) };
    expect(await code(db.place.deleteMany({ where: one }))).toBe('WB004');
    const all = inTransaction(db, async (tx) => {
      const rows = await tx.place.findMany({ where: { bookingId: booking.id } });
      const nothing = { creditedMinor: 0, refundMinor: 0, keptMinor: 0, cancelledAt: clock.now(), because: 'Gone' };
      await tx.cancelledPlace.createMany({
        data: rows.map(({ id, bookingId, personId }) => ({ id, bookingId, personId, ...nothing })),
      });
      await tx.place.deleteMany({ where: { bookingId: booking.id } });
    });
    expect(await code(all)).toBe('WB004');
    expect((await get(booking)).attendees).toHaveLength(2);
  });
});
