import { randomUUID } from 'node:crypto';
import { afterEach, beforeAll, describe, expect, test } from 'vitest';
import { testApp } from '../../support/app.js';
import { bookingFixture, payFor } from '../../support/fixtures/bookings.js';
import { coursesFixture } from '../../support/fixtures/courses.js';

// The policy of the fixture: all back from 28 days before the start, half from 14, and 5.00 kept where the place is filled again (filled-again.test.ts).
const { db, owner, clock } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
});
afterEach(() => clock.set('2026-03-10T09:00:00Z'));

const cancel = (id: string, body: object = {}, key?: string) =>
  owner.post(`/api/bookings/${id}/cancellation`, { reason: 'Moved away', method: 'card', ...body }, key);
const balance = async (code: string) => {
  const { items } = (await owner.get('/api/account-balances')).json();
  return items.find((account: { code: string }) => account.code === code).balanceMinor;
};
/** A booking of the first of 8 places, with its deposit paid. */
const paidBooking = async (changes: object = {}) => {
  const booking = await bookingFixture(owner, (await home.addCourse(changes)).id);
  await payFor(owner, booking, 3000);
  return booking;
};

describe('cancelling gives back', () => {
  test.each([
    ['28 days before', '2026-03-17T12:00:00Z', 3000],
    ['27 days before', '2026-03-18T12:00:00Z', 1500],
    ['14 days before', '2026-03-31T12:00:00Z', 1500],
    ['14 days before by the studio’s calendar, when in UTC it was still 15', '2026-03-30T23:30:00Z', 1500],
    ['13 days before by the studio’s calendar, when in UTC it was still 14', '2026-03-31T23:30:00Z', 0],
    ['on the day, before it begins', '2026-04-14T17:59:00Z', 0],
  ])('by the tiers: %s', async (_, at, refundMinor) => {
    const { id } = await paidBooking();
    await clock.set(at);
    const answer = await cancel(id);
    expect(answer.statusCode).toBe(201);
    expect(answer.json()).toMatchObject({
      refundMinor,
      keptMinor: 3000 - refundMinor,
      booking: { state: 'cancelled', cancelledBecause: 'Moved away', paidMinor: 3000 - refundMinor, owedMinor: 0 },
    });
  });

  test('on its voucher what one paid, for which nobody needs to say how', async () => {
    const { id, payerId, chargeId } = await paidBooking();
    const sold = (
      await owner.post('/api/vouchers', { buyerId: payerId, amountMinor: 2500, method: 'cash', taxRateId: null })
    ).json();
    const body = {
      personId: payerId,
      method: 'voucher',
      voucherCode: sold.code,
      for: [{ chargeId, amountMinor: 2000 }],
    };
    expect((await owner.post('/api/payments', body)).statusCode).toBe(201);
    await clock.set('2026-03-18T12:00:00Z');
    const both = { refundMinor: 2500, method: undefined };
    expect((await cancel(id, both)).json()).toMatchObject({ errors: [{ pointer: '#/method' }], moneyMinor: 500 });
    expect((await cancel(id, { ...both, refundMinor: 1500 })).json()).toMatchObject({
      refundMinor: 1500,
      onVoucherMinor: 1500,
      keptMinor: 3500,
    });
    expect((await owner.get(`/api/vouchers/${sold.id}`)).json()).toMatchObject({ leftMinor: 2000 });
  });

  test('as on the day on which notice was given, between the booking and today', async () => {
    const { id } = await paidBooking();
    await clock.set('2026-04-02T09:00:00Z');
    for (const asOf of ['2026-03-09', '2026-04-03']) {
      const answer = await cancel(id, { asOf });
      expect([answer.statusCode, answer.json().errors[0].pointer]).toEqual([422, '#/asOf']);
    }
    expect((await cancel(id, { asOf: '2026-03-17' })).json()).toMatchObject({ refundMinor: 3000 });
  });

  test('no more than the tiers on a full course too, while nobody has taken the place', async () => {
    const course = await home.addCourse({ places: 2, minimum: 1 });
    const [first, second] = [await bookingFixture(owner, course.id), await bookingFixture(owner, course.id)];
    for (const booking of [first, second]) await payFor(owner, booking, 3000);
    await clock.set('2026-04-10T09:00:00Z');
    for (const { id } of [first, second])
      expect((await cancel(id)).json()).toMatchObject({ refundMinor: 0, keptMinor: 3000 });
  });

  test('nothing where nothing was paid, and needs no method for that', async () => {
    const booking = await bookingFixture(owner, (await home.addCourse()).id);
    const answer = (await owner.post(`/api/bookings/${booking.id}/cancellation`, { reason: 'Changed plans' })).json();
    expect(answer).toMatchObject({ refundMinor: 0, keptMinor: 0, booking: { state: 'cancelled', owedMinor: 0 } });
    expect(await db.creditNote.count({ where: { credit: { chargeId: booking.chargeId } } })).toBe(0);
  });

  test('what the owner decides once the course has begun, where the policy gives nothing', async () => {
    const [one, other] = [await paidBooking(), await paidBooking()];
    await clock.set('2026-04-14T18:00:00Z');
    expect((await cancel(one.id)).json()).toMatchObject({ refundMinor: 0, because: expect.stringContaining('owner') });
    expect((await cancel(other.id, { refundMinor: 3001 })).json()).toMatchObject({ type: '/problems/more-than-owed' });
    expect((await cancel(other.id, { refundMinor: 2000 })).json()).toMatchObject({
      refundMinor: 2000,
      keptMinor: 1000,
    });
  });
});

describe('a cancellation', () => {
  test('takes VAT back with the refund, keeps the rest as income and sends a credit note', async () => {
    const codes = ['deposits-held', 'billed-in-advance', 'vat', 'course-income', 'card', 'cash'];
    const now = async () => Promise.all(codes.map(balance));
    const before = await now();
    const { id, payerId } = await paidBooking();
    await clock.set('2026-03-20T09:00:00Z');
    await cancel(id);
    // 30.00 paid in cash, 15.00 paid back by card; 15.00 kept, of which 2.50 is VAT at 20 % (15.00 * 20 / 120)
    expect((await now()).map((after, i) => after - (before[i] ?? 0))).toEqual([0, 0, -250, -1250, -1500, 3000]);
    const notice = await db.notice.findFirstOrThrow({
      where: { personId: payerId, occasion: 'refund' },
      include: { document: true },
    });
    expect(notice.document?.kind).toBe('creditNote');
  });

  test('frees its places', async () => {
    const course = await home.addCourse({ places: 2, minimum: 1 });
    const { id } = await bookingFixture(owner, course.id, 2);
    await expect(bookingFixture(owner, course.id)).rejects.toThrow('course-full');
    await cancel(id);
    expect(await bookingFixture(owner, course.id, 2)).toMatchObject({ state: 'provisional' });
  });

  test('has one effect with the same key, and is refused with another', async () => {
    const { id, chargeId } = await paidBooking();
    const key = randomUUID();
    const answers = [await cancel(id, {}, key), await cancel(id, {}, key)];
    expect(answers[1]?.json()).toEqual(answers[0]?.json());
    const again = await cancel(id);
    expect(again.json()).toMatchObject({ type: '/problems/already-cancelled', status: 409 });
    expect(again.json().detail).toContain('Moved away');
    expect(await db.credit.count({ where: { chargeId } })).toBe(1);
  });

  test('says how money goes back before any does, and a reason in a line that can be printed', async () => {
    const { id } = await paidBooking();
    const answer = await owner.post(`/api/bookings/${id}/cancellation`, { reason: 'Moved away' });
    expect([answer.statusCode, answer.json().errors[0].pointer, answer.json().refundMinor]).toEqual([
      422,
      '#/method',
      3000,
    ]);
    for (const wrong of [
      { reason: '' },
      { reason: '病' },
      { method: 'cheque' },
      { refundMinor: -1 },
      { asOf: '2026-02-30' },
      { asOf: '2026-03-10', refundMinor: 1 },
    ])
      expect((await cancel(id, wrong)).statusCode).toBe(422);
    expect((await owner.get(`/api/bookings/${id}`)).json()).toMatchObject({ state: 'confirmed', paidMinor: 3000 });
  });

  test('is of a booking that exists', async () => {
    expect((await cancel(randomUUID())).json()).toMatchObject({ type: '/problems/not-found' });
  });
});
