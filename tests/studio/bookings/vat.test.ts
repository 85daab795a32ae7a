import { afterEach, beforeAll, describe, expect, test } from 'vitest';
import { ReceiptContent } from '../../../src/documents/receipt-content.js';
import type { Booking } from '../../../src/studio/bookings/contract.js';
import type { Course } from '../../../src/studio/courses/contract.js';
import type { Plan } from '../../../src/studio/courses/plan-contract.js';
import { vatInside } from '../../../src/trade/money/tax.js';
import { testApp } from '../../support/app.js';
import { bookingFixture, payFor } from '../../support/fixtures/bookings.js';
import { coursesFixture, planBody } from '../../support/fixtures/courses.js';
import { till } from '../../support/fixtures/vouchers.js';
import { made, personFixture } from '../../support/fixtures.js';

const studio = await testApp();
const { db, owner, clock } = studio;
let home: Awaited<ReturnType<typeof coursesFixture>>;
let parts: object[];
beforeAll(async () => {
  home = await coursesFixture(owner);
  parts = [
    { label: 'teaching', taxRateId: home.exempt.id, sharePercent: '62.5' },
    { label: 'a book', taxRateId: home.exempt.id, amountMinor: 999 },
  ];
});

afterEach(() => clock.set('2026-03-10T09:00:00Z'));

const TWENTY = { kind: 'standard', percent: '20' } as const;
const addPlan = (changes: object = {}) =>
  made<Plan>(owner, '/api/course-plans', { ...planBody(home), parts, restLabel: 'clay and firing', ...changes });
const addCourse = async (changes: object = {}) =>
  home.addCourse({ planId: (await addPlan()).id, ...changes }) as Promise<Course>;

describe('a booking whose price bears VAT on a part only', () => {
  test('is charged so, for all its places, and shows it', async () => {
    const booking = await bookingFixture(owner, (await addCourse()).id, 2);
    // of 240.00, 62.5 % are 150.00, and 9.99 for each of two: what is left, 70.02, bears 20 %
    expect(booking.vat).toEqual([
      { label: 'clay and firing', taxName: 'Standard', grossMinor: 7002, vatPercent: '20', vatMinor: 1167 },
      { label: 'teaching, a book', taxName: 'Exempt', grossMinor: 16_998, vatPercent: null, vatMinor: 0 },
    ]);
    expect((await owner.get(`/api/bookings/${booking.id}`)).json()).toEqual(booking);
    expect(await db.charge.findUniqueOrThrow({ where: { id: booking.chargeId } })).toMatchObject({ quantity: 2 });
  });

  test('bears it on deposit and balance, and in the books when the course is over', async () => {
    const { balance } = till(studio, home.standard.id);
    const before = { vat: await balance('vat'), income: await balance('course-income') };
    const course = await addCourse();
    const booking = await bookingFixture(owner, course.id);
    const deposit = (await payFor(owner, booking, 3000)).json();
    const { content } = await db.document.findUniqueOrThrow({ where: { id: deposit.documentId } });
    expect(ReceiptContent.parse(content)).toMatchObject({
      kind: 'vat-full',
      lines: [
        { description: expect.stringMatching(/, 1 place: clay and firing$/), quantity: 1, grossMinor: 875 },
        { description: expect.stringMatching(/, 1 place: teaching, a book$/), quantity: 1, grossMinor: 2125 },
      ],
    });
    expect((await balance('vat')) - before.vat).toBe(-vatInside(875, TWENTY));
    await clock.set('2026-05-06T09:00:00Z');
    expect((await owner.post(`/api/courses/${course.id}/completion`, {})).statusCode).toBe(201);
    expect((await balance('vat')) - before.vat).toBe(-vatInside(3501, TWENTY));
    expect((await balance('course-income')) - before.income).toBe(-(12_000 - vatInside(3501, TWENTY)));
    await payFor(owner, booking, 9000);
    expect((await balance('vat')) - before.vat).toBe(-vatInside(3501, TWENTY));
  });

  test('and is called off: its VAT goes back with what is refunded', async () => {
    const { balance } = till(studio, home.standard.id);
    const before = await balance('vat');
    const booking = await bookingFixture(owner, (await addCourse()).id);
    await payFor(owner, booking, 12_000);
    const called = await owner.post(`/api/bookings/${booking.id}/cancellation`, {
      reason: 'Moved away',
      method: 'cash',
    });
    expect(called.json()).toMatchObject({ refundMinor: 12_000 });
    expect(await balance('vat')).toBe(before);
  });

  test('is frozen, whatever becomes of the plan', async () => {
    const course = await addCourse();
    const before = await bookingFixture(owner, course.id);
    const address = `/api/course-plans/${course.planId}`;
    const { id: _, litresPerStudent: __, retiredOn: ___, ...body } = (await owner.get(address)).json() as Plan;
    const changed = await owner.put(address, { ...body, parts: [] });
    expect(changed.statusCode).toBe(200);
    expect((await owner.get(`/api/bookings/${before.id}`)).json()).toEqual(before);
    const { vat } = await bookingFixture(owner, course.id);
    expect(vat).toMatchObject([{ label: null, grossMinor: 12_000, vatMinor: 2000 }]);
  });

  test('counts the parts at the price of a concession', async () => {
    const course = await addCourse({ concessions: [{ label: 'Student', priceMinor: 8000 }] });
    const [ada, bo] = [await personFixture(owner), await personFixture(owner)];
    const booking: Booking = await made(owner, `/api/courses/${course.id}/bookings`, {
      ...{ payerId: ada.id, attendeeIds: [ada.id, bo.id] },
      concessions: [{ attendeeId: bo.id, concessionId: course.concessions[0]?.id }],
    });
    expect(booking.vat.map(({ grossMinor }) => grossMinor)).toEqual([20_000 - 12_500 - 1998, 12_500 + 1998]);
  });

  test('of a private session is that of its shares', async () => {
    const plan = await addPlan({ kind: 'private', groupOf: 2, parts: parts.slice(0, 1) });
    const course = await home.addCourse({ planId: plan.id, perHeadAboveMinor: 1000 });
    const { vat } = await bookingFixture(owner, course.id, 3);
    expect(vat.map(({ grossMinor }) => grossMinor)).toEqual([4875, 8125]);
  });
});

test('a course, or a concession of it, that costs less than its parts is refused', async () => {
  const { id: planId } = await addPlan();
  const body = { ...home.body, planId, depositMinor: 0 };
  for (const changes of [{ priceMinor: 2600 }, { concessions: [{ label: 'Student', priceMinor: 2600 }] }]) {
    const answer = await owner.post('/api/courses', { ...body, ...changes });
    expect([answer.statusCode, answer.json().detail]).toEqual([
      422,
      expect.stringContaining('with a different VAT rate'),
    ]);
  }
  expect((await owner.post('/api/courses', { ...body, priceMinor: 2664 })).statusCode).toBe(201); // 16.65 and 9.99
});

test('a plan is refused parts that come to more than a course to come costs, or a concession of it', async () => {
  const { planId } = await addCourse({ concessions: [{ label: 'Student', priceMinor: 8000 }] });
  const address = `/api/course-plans/${planId}`;
  const { id: _, litresPerStudent: __, retiredOn: ___, ...body } = (await owner.get(address)).json() as Plan;
  const withBook = (amountMinor: number) => ({
    ...body,
    parts: [parts[0], { label: 'a book', taxRateId: home.exempt.id, amountMinor }],
  });
  const refused = await owner.put(address, withBook(3001));
  expect([refused.statusCode, refused.json().errors?.[0].pointer]).toEqual([409, '#/parts']);
  expect((await owner.put(address, withBook(3000))).statusCode).toBe(200);
  await clock.set('2026-04-14T20:00:00Z'); // it has begun, and takes no more bookings
  expect((await owner.put(address, withBook(3001))).statusCode).toBe(200);
});
