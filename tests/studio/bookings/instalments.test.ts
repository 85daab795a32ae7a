import { afterEach, beforeAll, describe, expect, test } from 'vitest';
import { ReceiptContent } from '../../../src/documents/receipt-content.js';
import { BookingData } from '../../../src/mail/templates/booking.js';
import type { Booking } from '../../../src/studio/bookings/contract.js';
import type { Course } from '../../../src/studio/courses/contract.js';
import type { Plan } from '../../../src/studio/courses/plan-contract.js';
import { testApp } from '../../support/app.js';
import { bookingFixture, payFor } from '../../support/fixtures/bookings.js';
import { coursesFixture, planBody } from '../../support/fixtures/courses.js';
import { till } from '../../support/fixtures/vouchers.js';
import { made, personFixture } from '../../support/fixtures.js';

const studio = await testApp();
const { db, owner, clock } = studio;
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
});
afterEach(() => clock.set('2026-03-10T09:00:00Z'));

const inThree = { balancePayments: 3, balanceEveryDays: 14 };
/** Two April evenings at 120.00 with 30.00 as deposit, the rest on 3, 17 and 31 March. */
const addCourse = (changes: object = {}) => home.addCourse({ ...inThree, ...changes }) as Promise<Course>;
const askedFor = ({ instalments }: Booking) => instalments.map(({ dueOn, amountMinor }) => [dueOn, amountMinor]);
const shown = async ({ id }: Booking): Promise<Booking> => (await owner.get(`/api/bookings/${id}`)).json();
const debtorOf = async (personId: string) =>
  (await owner.get('/api/debtors')).json().items.find((debtor: { personId: string }) => debtor.personId === personId);
const letterOf = async ({ payerId }: Booking) =>
  BookingData.parse((await db.notice.findFirstOrThrow({ where: { personId: payerId, occasion: 'booking' } })).data);

describe('a balance in several payments', () => {
  test('falls due day by day, on the receipts and among what people owe', async () => {
    await clock.set('2026-02-20T09:00:00Z');
    const booking = await bookingFixture(owner, (await addCourse()).id);
    expect(askedFor(booking)).toEqual([
      ['2026-02-22', 3000],
      ['2026-03-03', 3000],
      ['2026-03-17', 3000],
      ['2026-03-31', 3000],
    ]);
    const paid = (await payFor(owner, booking, 3000)).json();
    expect(await shown(booking)).toMatchObject({ state: 'confirmed', owedMinor: 9000 });
    const receipt = await db.document.findUniqueOrThrow({ where: { id: paid.documentId } });
    expect(ReceiptContent.parse(receipt.content).supplies).toMatchObject([
      {
        ...{ stillToPayMinor: 9000, payBy: '2026-03-03' },
        stillDue: ['2026-03-03', '2026-03-17', '2026-03-31'].map((dueOn) => ({ dueOn, amountMinor: 3000 })),
      },
    ]);

    expect(await debtorOf(booking.payerId)).toMatchObject({ owedMinor: 9000, dueMinor: 0 });
    await clock.set('2026-03-17T09:00:00Z');
    expect(await debtorOf(booking.payerId)).toMatchObject({ owedMinor: 9000, dueMinor: 6000 });
    const reminder = await owner.post(`/api/people/${booking.payerId}/reminders`, {});
    expect(reminder.json()).toMatchObject({ dueMinor: 6000 });
    await payFor(owner, booking, 4000);
    expect(await debtorOf(booking.payerId)).toMatchObject({ dueMinor: 2000, charges: [{ dueOn: '2026-03-17' }] });
  });

  test('stands in the letter, each part with its day', async () => {
    await clock.set('2026-02-20T09:00:00Z');
    const letter = await letterOf(await bookingFixture(owner, (await addCourse()).id, 2));
    expect(letter).toMatchObject({ price: '£240', deposit: '£60', dueNow: null });
    expect(letter.balance).toEqual([
      { amount: '£60', by: '3 March 2026' },
      { amount: '£60', by: '17 March 2026' },
      { amount: '£60', by: '31 March 2026' },
    ]);
  });

  test('booked late: nothing is due before the hold ends, and the place is held for the deposit alone', async () => {
    await clock.set('2026-03-14T23:30:00Z');
    const early = await bookingFixture(owner, (await addCourse()).id);
    expect(askedFor(early)).toEqual([
      ['2026-03-16', 6000],
      ['2026-03-17', 3000],
      ['2026-03-31', 3000],
    ]);
    expect(await letterOf(early)).toMatchObject({
      ...{ heldUntil: 'Monday 16 March 2026, 23:30', dueNow: '£60', dueNowBy: '16 March 2026' },
      balance: [{ by: '17 March 2026' }, { by: '31 March 2026' }],
    });
    await clock.set('2026-03-28T23:30:00Z'); // 48 hours later it is half past midnight on the 31st: the clocks went forward on the 29th
    const late = await bookingFixture(owner, (await addCourse()).id);
    expect(late).toMatchObject({ depositMinor: 3000, state: 'provisional', heldUntil: '2026-03-30T23:30:00.000Z' });
    expect(askedFor(late)).toEqual([['2026-03-31', 12_000]]);
    expect(await letterOf(late)).toMatchObject({
      ...{ heldUntil: 'Tuesday 31 March 2026, 00:30', deposit: '£30', balance: [] },
      ...{ dueNow: '£120', dueNowBy: '31 March 2026' },
    });
    expect(await debtorOf(late.payerId)).toMatchObject({ dueMinor: 0 });
    await clock.set('2026-03-30T23:00:00Z'); // midnight: the last day of the hold
    await payFor(owner, late, 3000); // with its deposit it is no longer only held, and the rest of that day is due
    expect(await debtorOf(late.payerId)).toMatchObject({ dueMinor: 9000, charges: [{ dueOn: '2026-03-31' }] });
    expect(await shown(late)).toMatchObject({ state: 'confirmed' });
  });

  test('is frozen with the booking, whatever becomes of the course’s terms', async () => {
    await clock.set('2026-02-20T09:00:00Z');
    const { id } = await addCourse();
    const before = await bookingFixture(owner, id);
    await db.course.update({ where: { id }, data: { balancePayments: 1, balanceDueDays: 3, depositMinor: 0 } });
    expect(await shown(before)).toEqual(before);
    expect(askedFor(await bookingFixture(owner, id))).toEqual([['2026-04-11', 12_000]]);
  });

  test('holds for a private session as for places', async () => {
    await clock.set('2026-02-20T09:00:00Z');
    const plan = await made<Plan>(owner, '/api/course-plans', { ...planBody(home), kind: 'private', groupOf: 2 });
    const course = await addCourse({ planId: plan.id, perHeadAboveMinor: 1000 });
    const booking = await bookingFixture(owner, course.id, 3);
    expect(askedFor(booking).map(([, minor]) => minor)).toEqual([3000, 3334, 3333, 3333]);
  });

  test('can be paid by voucher and called off: what was paid goes back, the rest is no longer asked for', async () => {
    await clock.set('2026-02-20T09:00:00Z');
    const { sell, pay, left, balance } = till(studio, home.standard.id);
    const before = await balance('vat');
    const booking = await bookingFixture(owner, (await addCourse()).id);
    const voucher = await sell(booking.payerId, 5000);
    await payFor(owner, booking, 3000);
    expect((await pay(booking.payerId, booking.chargeId, 3000, voucher.code)).statusCode).toBe(201);
    const called = await owner.post(`/api/bookings/${booking.id}/cancellation`, {
      ...{ reason: 'Moved away', method: 'cash', refundMinor: 4500 },
    });
    expect(called.json()).toMatchObject({ refundMinor: 4500, onVoucherMinor: 3000, keptMinor: 1500 });
    expect(await left(voucher.id)).toBe(5000);
    expect(await debtorOf(booking.payerId)).toBeUndefined();
    expect((await balance('vat')) - before).toBe(-250); // of the 15.00 that are kept
  });
});

describe('who says in how many payments', () => {
  test('the plan, unless its course does', async () => {
    const { id: planId } = await made<Plan>(owner, '/api/course-plans', { ...planBody(home), payments: 4, ...inThree });
    expect(await home.addCourse({ planId })).toMatchObject(inThree);
    expect(await home.addCourse({ planId, balancePayments: 1 })).toMatchObject({ ...inThree, balancePayments: 1 });
    expect(await home.addCourse()).toMatchObject({ balancePayments: 1, balanceEveryDays: 28 });
  });

  test('a concession, of its own places: in one payment, all of it is the deposit', async () => {
    await clock.set('2026-02-20T09:00:00Z');
    const concessions = [
      { label: 'Early', priceMinor: 11_000, payments: 1 },
      { label: 'Slowly', priceMinor: 12_000, payments: 3 },
    ];
    const course = await addCourse({ balancePayments: 1, concessions });
    const ids: string[] = [];
    for (let i = 0; i < 3; i++) ids.push((await personFixture(owner)).id);
    const booking: Booking = await made(owner, `/api/courses/${course.id}/bookings`, {
      ...{ payerId: ids[0], attendeeIds: ids },
      concessions: course.concessions.map(({ id }, i) => ({ attendeeId: ids[i], concessionId: id })),
    });
    expect(booking).toMatchObject({ priceMinor: 35_000, depositMinor: 11_000 + 3000 + 3000 });
    expect(askedFor(booking)).toEqual([
      ['2026-02-22', 17_000],
      ['2026-03-17', 4500],
      ['2026-03-31', 4500 + 9000],
    ]);
  });

  test.each([
    ['a plan whose payments are fewer', { payments: 2, balancePayments: 3 }, '#/payments'],
    ['a plan whose payments are more', { payments: 5, balancePayments: 3 }, '#/payments'],
    ['no payments of the balance', { balancePayments: 0 }, '#/balancePayments'],
    ['twelve of them', { payments: 12, balancePayments: 12 }, '#/balancePayments'],
    ['payments on one day', { balanceEveryDays: 0 }, '#/balanceEveryDays'],
  ])('%s is refused', async (_, changes, pointer) => {
    const answer = await owner.post('/api/course-plans', { ...planBody(home), ...changes });
    expect([answer.statusCode, answer.json().errors?.[0].pointer]).toEqual([422, pointer]);
  });

  test('the database refuses them by itself', async () => {
    const { id } = home.plan;
    await expect(db.coursePlan.update({ where: { id }, data: { payments: 5, balancePayments: 3 } })).rejects.toThrow();
    await expect(db.coursePlan.update({ where: { id }, data: { balanceEveryDays: 0 } })).rejects.toThrow();
    await expect(db.course.updateMany({ data: { balancePayments: 12 } })).rejects.toThrow();
  });
});
