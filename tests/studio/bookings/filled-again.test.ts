import { afterEach, beforeAll, describe, expect, test } from 'vitest';
import type { Plan } from '../../../src/studio/courses/plan-contract.js';
import { testApp } from '../../support/app.js';
import { bookingFixture, payFor } from '../../support/fixtures/bookings.js';
import { coursesFixture, planBody } from '../../support/fixtures/courses.js';
import { givingUp } from '../../support/fixtures/given-up.js';
import { till } from '../../support/fixtures/vouchers.js';
import { made } from '../../support/fixtures.js';
import { faultsAfter } from '../../support/past-triggers.js';

// The policy of the fixture: all back from 28 days before the start on 14 April, half from 14, and 5.00 kept where the place is filled again.
const studio = await testApp();
const { db, owner, tutor, clock, url } = studio;
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
});
const LATE = '2026-04-10T09:00:00Z'; // four days before: nothing by tier
const BEGUN = '2026-04-14T18:00:00Z';
afterEach(() => clock.set('2026-03-10T09:00:00Z'));

const { addCourse, confirmed, cancel, due, payBack, begin, letters } = givingUp(studio, () => home);

describe('a place that was given up', () => {
  test('is paid for as far as the tiers say, and no further while nobody takes it', async () => {
    const course = await addCourse(2);
    const [first] = [await confirmed(course), await confirmed(course)];
    await clock.set(LATE);
    expect(await cancel(first)).toMatchObject({ refundMinor: 0, keptMinor: 3000, furtherMinor: 2500 });
    expect(await due(first)).toBe(0);
    expect((await payBack(first)).json()).toMatchObject({ type: '/problems/nothing-owed' });
    await clock.set(BEGUN);
    await begin();
    expect(await due(first)).toBe(0); // it began with one place of two taken
  });

  test('is owed all but the fee once somebody who had no other is confirmed, not while theirs is only held', async () => {
    const course = await addCourse(2);
    const [first] = [await confirmed(course), await confirmed(course)];
    await clock.set('2026-03-31T09:00:00Z'); // half by tier
    expect(await cancel(first)).toMatchObject({ refundMinor: 1500, furtherMinor: 1000 });
    const next = await bookingFixture(owner, course);
    expect(await due(first)).toBe(0);
    await payFor(owner, next, 2999);
    expect(await due(first)).toBe(0);
    await payFor(owner, next, 1);
    expect(await due(first)).toBe(1000);
    expect(await letters(first)).toEqual([
      {
        booking: 'Two mugs, 14 April 2026 to 5 May 2026, 1 place',
        places: 'Your place has',
        amount: '£10',
      },
    ]);
    await payFor(owner, next, 9000);
    expect(await due(first)).toBe(1000);
    expect(await letters(first)).toHaveLength(1);
  });

  test('is not filled by somebody who would have found a place anyway', async () => {
    const course = await addCourse(3);
    const first = await confirmed(course);
    await confirmed(course);
    await clock.set(LATE);
    await cancel(first);
    await confirmed(course); // takes the place that nobody had yet
    expect(await due(first)).toBe(0);
    await confirmed(course);
    expect(await due(first)).toBe(2500);
  });

  test('is not filled by a place that is only held when somebody else is confirmed', async () => {
    const course = await addCourse(2);
    const [first, second] = [await confirmed(course), await confirmed(course)];
    await clock.set('2026-04-01T09:00:00Z');
    for (const booking of [first, second]) await cancel(booking);
    const held = await bookingFixture(owner, course);
    await confirmed(course);
    expect([await due(first), await due(second)]).toEqual([2500, 0]);
    await payFor(owner, held, 3000);
    expect([await due(first), await due(second)]).toEqual([2500, 2500]);
  });

  test('is filled at once where no deposit is asked', async () => {
    const course = await addCourse(1, { depositMinor: 0 });
    const first = await bookingFixture(owner, course);
    await payFor(owner, first, 4000);
    await clock.set(LATE);
    expect(await cancel(first)).toMatchObject({ furtherMinor: 3500 });
    await bookingFixture(owner, course);
    expect(await due(first)).toBe(3500);
  });

  test('is filled in the order of cancelling, also where who filled it leaves again', async () => {
    const course = await addCourse(2);
    const [first, second] = [await confirmed(course), await confirmed(course)];
    await clock.set(LATE);
    for (const booking of [second, first]) await cancel(booking);
    const third = await confirmed(course);
    expect([await due(second), await due(first)]).toEqual([2500, 0]);
    await cancel(third);
    expect([await due(second), await due(first), await due(third)]).toEqual([2500, 0, 0]);
    await confirmed(course);
    expect([await due(second), await due(first), await due(third)]).toEqual([2500, 2500, 0]);
    await confirmed(course);
    expect([await due(second), await due(first), await due(third)]).toEqual([2500, 2500, 2500]);
  });

  test('is a part of a booking of several, and the letter says of how many', async () => {
    const course = await addCourse(3);
    const group = await confirmed(course, 3);
    await clock.set(LATE);
    expect(await cancel(group)).toMatchObject({ furtherMinor: 8500 });
    await confirmed(course);
    expect(await due(group)).toBe(2833); // of 85.00 a third
    await confirmed(course, 2);
    expect(await due(group)).toBe(8500);
    expect(await letters(group)).toMatchObject([
      { places: '1 of your 3 places has', amount: '£28.33' },
      { places: '2 of your 3 places have', amount: '£56.67' },
    ]);
  });

  test('of a private session is filled by another group of any size', async () => {
    const plan = await made<Plan>(owner, '/api/course-plans', { ...planBody(home), kind: 'private', groupOf: 4 });
    const course = await addCourse(6, { planId: plan.id, perHeadAboveMinor: 1000 });
    const group = await confirmed(course, 5);
    await clock.set(LATE);
    await cancel(group);
    await confirmed(course, 2);
    expect(await due(group)).toBe(2500);
  });

  test('is filled where the course is full when it begins, counting a place that is still held', async () => {
    const course = await addCourse(2);
    const [first] = [await confirmed(course), await confirmed(course)];
    await clock.set('2026-04-13T09:00:00Z');
    await cancel(first);
    await bookingFixture(owner, course); // held for 48 hours, so until it begins
    await begin();
    expect(await due(first)).toBe(0);
    await clock.set(BEGUN);
    await begin();
    expect(await due(first)).toBe(2500);
    await Promise.all([begin(), begin()]);
    expect(await letters(first)).toHaveLength(1);
    expect(await db.courseBeginning.findUnique({ where: { courseId: course } })).toMatchObject({ taken: 2 });
  });

  test('is filled by who had a place as it began, though they cancel before anybody looked', async () => {
    const course = await addCourse(1);
    const first = await confirmed(course);
    await clock.set('2026-04-13T09:00:00Z');
    await cancel(first);
    const held = await bookingFixture(owner, course);
    await clock.set(BEGUN);
    await cancel(held);
    await begin();
    expect(await due(first)).toBe(2500);
  });

  test('gives no more where the owner decided, where a hold was never paid, or after the start', async () => {
    const course = await addCourse(3);
    const [decided, late] = [await confirmed(course), await confirmed(course)];
    const held = await bookingFixture(owner, course);
    expect(await cancel(decided, { refundMinor: 1000 })).toMatchObject({ furtherMinor: 0 });
    expect(await cancel(held)).toMatchObject({ furtherMinor: 0 });
    await confirmed(course, 2);
    expect([await due(decided), await due(held)]).toEqual([0, 0]);
    await clock.set(BEGUN);
    expect(await cancel(late)).toMatchObject({ furtherMinor: 0, refundMinor: 0 });
    await begin();
    expect(await due(late)).toBe(0);
  });
});

describe('what is owed since a place is filled again', () => {
  /** A booking of a full course, 30.00 paid, cancelled too late for a tier and filled again: 25.00 are due. */
  const filled = async () => {
    const course = await addCourse(1);
    const first = await confirmed(course);
    await clock.set(LATE);
    await cancel(first);
    await confirmed(course);
    return first;
  };
  const balance = async (code: string) => {
    const { items } = (await owner.get('/api/account-balances')).json();
    return items.find((account: { code: string }) => account.code === code).balanceMinor;
  };

  test('is paid back once, with its VAT, by an entry that names the first and a credit note', async () => {
    const first = await filled();
    const codes = ['vat', 'course-income', 'bank', 'receivable'];
    const before = await Promise.all(codes.map(balance));
    const answers = await Promise.all([payBack(first), payBack(first)]);
    expect(answers.map(({ statusCode }) => statusCode).sort()).toEqual([201, 409]);
    const paid = answers.find(({ statusCode }) => statusCode === 201)?.json();
    expect(paid).toMatchObject({
      ...{ refundMinor: 2500, onVoucherMinor: 0 },
      booking: { state: 'cancelled', refundDueMinor: 0, paidMinor: 500, owedMinor: 0 },
    });
    // 25.00 back by transfer, of which 4.17 is VAT at 20 % (30.00 bore 5.00, the 5.00 that are kept bear 0.83)
    const after = await Promise.all(codes.map(balance));
    expect(after.map((now, i) => now - (before[i] ?? 0))).toEqual([417, 2083, -2500, 0]);
    const [credit] = await db.credit.findMany({
      where: { chargeId: first.chargeId, refillRefunds: { some: {} } },
      include: { entry: true, creditNote: true },
    });
    const charge = await db.charge.findUniqueOrThrow({ where: { id: first.chargeId } });
    expect(credit).toMatchObject({ amountMinor: 2500, entry: { correctsId: charge.entryId } });
    expect(credit?.creditNote).not.toBeNull();
    const refunds = await db.notice.findMany({ where: { personId: first.payerId, occasion: 'refund' } });
    expect(refunds).toMatchObject([{ data: { amount: '£25', reason: 'the place was filled again' } }]);
    expect((await payBack(first)).statusCode).toBe(409);
  });

  test('needs a way to pay it, but for what goes back on a voucher', async () => {
    const course = await addCourse(1);
    const first = await bookingFixture(owner, course);
    const { sell, pay, left } = till(studio, home.standard.id);
    const voucher = await sell(first.payerId, 2000);
    await payFor(owner, first, 1000);
    expect((await pay(first.payerId, first.chargeId, 2000, voucher.code)).statusCode).toBe(201);
    await clock.set(LATE);
    await cancel(first);
    await confirmed(course);
    expect((await payBack(first, {})).json()).toMatchObject({
      ...{ errors: [{ pointer: '#/method' }], refundMinor: 2500, moneyMinor: 500 },
    });
    expect((await payBack(first, { method: 'cash' })).json()).toMatchObject({
      refundMinor: 2500,
      onVoucherMinor: 2000,
    });
    expect(await left(voucher.id)).toBe(2000);
  });

  test('keeps the VAT of a price whose parts bear other taxes', async () => {
    const parts = [{ label: 'teaching', taxRateId: home.exempt.id, sharePercent: '62.5' }];
    const plan = await made<Plan>(owner, '/api/course-plans', {
      ...planBody(home),
      parts,
      restLabel: 'clay and firing',
    });
    const course = await addCourse(1, { planId: plan.id });
    const before = await balance('vat');
    const first = await confirmed(course);
    await clock.set(LATE);
    await cancel(first);
    const second = await bookingFixture(owner, course);
    await payFor(owner, second, second.priceMinor);
    expect((await payBack(first)).statusCode).toBe(201);
    // 5.00 kept of the first, 120.00 of the second; of each 37.5 % bear 20 %: 1.88 bear 0.31, 45.00 bear 7.50
    expect((await balance('vat')) - before).toBe(-31 - 750);
  });

  test('is seen among what is due, by the owner alone, on the day as in its list', async () => {
    const first = await filled();
    const shown = {
      ...{ bookingId: first.id, personId: first.payerId, personName: first.payerName, amountMinor: 2500 },
      ...{ what: 'Two mugs, 14 April 2026 to 5 May 2026, 1 place', since: '2026-04-10' },
    };
    const mine = (items: { bookingId: string }[]) => items.filter(({ bookingId }) => bookingId === first.id);
    expect(mine((await owner.get('/api/refunds-due')).json().items)).toEqual([shown]);
    expect(mine((await owner.get('/api/today')).json().refundsDue)).toEqual([shown]);
    expect((await tutor.get('/api/refunds-due')).statusCode).toBe(403);
    expect((await tutor.get('/api/today')).json().refundsDue).toBeNull();
    expect((await tutor.post(`/api/bookings/${first.id}/further-refund`, {})).statusCode).toBe(403);
    await payBack(first);
    expect(mine((await owner.get('/api/refunds-due')).json().items)).toEqual([]);
  });

  test('is never more than was given up, nor paid twice, whoever writes it', async () => {
    const first = await filled();
    const [refill] = await db.placeRefill.findMany({ where: { bookingId: first.id } });
    const id = crypto.randomUUID();
    await expect(
      db.placeRefill.create({
        data: {
          ...{ id, bookingId: first.id, givenUpId: refill?.givenUpId ?? '' },
          ...{ places: 1, amountMinor: 0, filledAt: new Date(), noticeId: null },
        },
      }),
    ).rejects.toMatchObject({ meta: { driverAdapterError: { cause: { originalCode: 'WB001' } } } });
    await payBack(first);
    const credit = await db.credit.findFirstOrThrow({
      where: { refillRefunds: { some: { refillId: refill?.id ?? '' } } },
    });
    await expect(
      db.refillRefund.create({ data: { refillId: refill?.id ?? '', creditId: credit.id } }),
    ).rejects.toThrow();
    expect(await faultsAfter(url, `UPDATE place_refill SET amount_minor = 2400 WHERE id = '${refill?.id}'`)).toContain(
      'a place that was given up is filled again once',
    );
  });
});
