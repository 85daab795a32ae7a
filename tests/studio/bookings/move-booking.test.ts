import { afterEach, beforeAll, describe, expect, test } from 'vitest';
import { CreditNoteContent } from '../../../src/documents/credit-note-content.js';
import { ReceiptContent } from '../../../src/documents/receipt-content.js';
import { letterFor } from '../../../src/mail/letters.js';
import type { Booking } from '../../../src/studio/bookings/contract.js';
import type { BookingMove } from '../../../src/studio/bookings/move-contract.js';
import type { Course } from '../../../src/studio/courses/contract.js';
import type { Plan } from '../../../src/studio/courses/plan-contract.js';
import { vatInside } from '../../../src/trade/money/tax.js';
import { testApp } from '../../support/app.js';
import { bookingFixture, payFor } from '../../support/fixtures/bookings.js';
import { coursesFixture, planBody } from '../../support/fixtures/courses.js';
import { till } from '../../support/fixtures/vouchers.js';
import { made, personFixture } from '../../support/fixtures.js';

// Courses of the fixture cost 120.00 a place with a deposit of 30.00; VAT of 20% is in the price, so it is a sixth of what is paid.
const studio = await testApp();
const { db, owner, clock } = studio;
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
});
afterEach(() => clock.set('2026-03-10T09:00:00Z'));

let rooms = 0;
/** The same two evenings in June, at what price it likes. */
async function june(changes: object = {}): Promise<Course> {
  const { id: roomId } = await made(owner, '/api/rooms', { name: `June room ${++rooms}`, benches: 10 });
  const sessions = [
    { startsAt: '2026-06-02T19:00:00+01:00', endsAt: '2026-06-02T21:30:00+01:00', roomId },
    { startsAt: '2026-06-23T19:00:00+01:00', endsAt: '2026-06-23T21:00:00+01:00', roomId },
  ];
  return home.addCourse({ title: 'Two mugs in June', sessions, ...changes });
}
const move = (booking: Pick<Booking, 'id'>, courseId: string, body: object = {}) =>
  owner.post(`/api/bookings/${booking.id}/move`, { courseId, ...body });
const moved = async (booking: Booking, course: Course, body: object = {}): Promise<BookingMove> => {
  const answer = await move(booking, course.id, body);
  expect(answer.statusCode, answer.body).toBe(201);
  return answer.json();
};
const get = async (id: string): Promise<Booking> => (await owner.get(`/api/bookings/${id}`)).json();
const paidBooking = async (amountMinor: number, places = 1, course?: Course) => {
  const booking = await bookingFixture(owner, (course ?? (await home.addCourse())).id, places);
  if (amountMinor > 0) expect((await payFor(owner, booking, amountMinor)).statusCode).toBe(201);
  return booking;
};
const letter = async (personId: string, occasion: 'bookingMoved' | 'refund' | 'voucher') => {
  const { data } = await db.notice.findFirstOrThrow({ where: { personId, occasion }, orderBy: { id: 'desc' } });
  const from = { name: 'Alder Lane Pottery', addressLines: [], email: null, phone: null };
  return letterFor(occasion, data, { studio: from, personName: 'you' }).text.replaceAll(/\s+/g, ' ');
};
const papers = async (personId: string) => {
  const receipts = await db.receipt.findMany({
    where: { payment: { personId } },
    include: { document: true },
    orderBy: { number: 'asc' },
  });
  const notes = await db.creditNote.findMany({
    where: { credit: { charge: { personId } } },
    include: { document: true },
    orderBy: { number: 'asc' },
  });
  return {
    receipts: receipts.map(({ document }) => ReceiptContent.parse(document.content)),
    notes: notes.map(({ document }) => CreditNoteContent.parse(document.content)),
  };
};
const { posted, sell, pay, left } = till(studio, '');

describe('a booking is moved to a later course', () => {
  test('at the same price: its deposit is carried over, the books hold as much as before, and it stays confirmed', async () => {
    const [booking, to] = [await paidBooking(3000), await june()];
    const notices = await db.notice.count();
    const seen = (await owner.post(`/api/bookings/${booking.id}/move/preview`, { courseId: to.id })).json();
    expect(seen.letters.map(({ occasion }: { occasion: string }) => occasion)).toEqual(['refund', 'bookingMoved']);
    expect(await db.notice.count()).toBe(notices);
    let done: BookingMove | undefined;
    const lines = await posted(async () => {
      done = await moved(booking, to);
    });
    expect(lines).toEqual({}); // what was held is held, what was billed is billed, and its VAT is that of the same rate
    expect(done).toMatchObject({
      ...{
        priceBeforeMinor: 12_000,
        paidMinor: 3000,
        carriedMinor: 3000,
        keptMinor: 0,
        refundMinor: 0,
        creditMinor: 0,
      },
      from: { state: 'cancelled', movedToId: done?.booking.id, paidMinor: 0, owedMinor: 0 },
      booking: { courseId: to.id, state: 'confirmed', priceMinor: 12_000, paidMinor: 3000, owedMinor: 9000 },
      stillDue: [{ dueOn: '2026-05-19', amountMinor: 9000 }], // 14 days before 2 June
    });
    expect(seen.outcome).toMatchObject({ carriedMinor: 3000, stillDue: done?.stillDue });
    expect((await owner.get(`/api/courses/${booking.courseId}/register`)).json().people).toEqual([]);
    expect((await owner.get(`/api/courses/${to.id}/register`)).json().people).toHaveLength(1);
  });

  test('and back again', async () => {
    const [from, to] = [await home.addCourse(), await june()];
    const booking = await paidBooking(3000, 1, from);
    const there = (await moved(booking, to)).booking;
    const back = (await moved(there, from)).booking;
    expect(back).toMatchObject({ courseId: from.id, state: 'confirmed', paidMinor: 3000 });
    expect((await get(there.id)).movedToId).toBe(back.id);
    expect((await move(booking, to.id)).json().type).toBe('/problems/already-cancelled');
  });

  test('at a higher price: what is more to pay and by when; who was confirmed stays so, and what is paid next counts', async () => {
    const to = await june({ priceMinor: 15_000, depositMinor: 5000 });
    const { booking, stillDue } = await moved(await paidBooking(3000), to);
    expect(booking).toMatchObject({ state: 'confirmed', owedMinor: 12_000, depositMinor: 3000 });
    // 20.00 of the deposit by the end of a hold of 48 hours, the rest 14 days before
    expect(stillDue).toEqual([
      { dueOn: '2026-03-12', amountMinor: 2000 },
      { dueOn: '2026-05-19', amountMinor: 10_000 },
    ]);
    expect((await payFor(owner, booking, 12_000)).statusCode).toBe(201);
    expect((await get(booking.id)).owedMinor).toBe(0);
  });

  test('at a lower price: what was paid above it goes back by the way that the owner names, or stays as credit', async () => {
    const to = await june({ priceMinor: 9000 });
    const booking = await paidBooking(12_000);
    expect((await move(booking, to.id)).json()).toMatchObject({ type: '/problems/invalid-request', refundMinor: 3000 });
    const lines = await posted(() => moved(booking, to, { method: 'transfer' }));
    // 30.00 leave the bank; 5.00 of VAT are no longer due, and 25.00 no longer held
    expect(lines).toEqual({ bank: -3000, vat: 500, 'deposits-held': 2500 });
    const { notes, receipts } = await papers(booking.payerId);
    expect(notes).toMatchObject([
      {
        totalMinor: 12_000,
        settlement: {
          parts: [
            { amountMinor: 3000, method: 'transfer' },
            { amountMinor: 9000, method: 'carried' },
          ],
        },
      },
    ]);
    expect(receipts.at(-1)).toMatchObject({
      method: 'carried',
      totalMinor: 9000,
      carriedFrom: { creditNote: notes[0]?.number },
    });

    const other = await paidBooking(12_000);
    const credited = await posted(async () => {
      expect(await moved(other, to, { method: 'credit' })).toMatchObject({ refundMinor: 3000, creditMinor: 3000 });
    });
    expect(credited).toEqual({ vat: 500, 'deposits-held': 2500, 'vouchers-outstanding': -3000 });
    expect(await letter(other.payerId, 'voucher')).toContain('We have kept £30 for you as credit.');
    expect(await letter(other.payerId, 'bookingMoved')).toContain('£30 stays with us as your credit');
  });
});

describe('the money of a move', () => {
  test('a fee that the owner names is kept as income with its VAT, and nothing else is', async () => {
    const booking = await paidBooking(3000);
    const to = await june();
    const lines = await posted(async () => {
      expect(await moved(booking, to, { feeMinor: 1000 })).toMatchObject({
        keptMinor: 1000,
        carriedMinor: 2000,
        booking: { state: 'confirmed' },
      });
    });
    // 10.00 are supplied: 8.33 of income and 1.67 of VAT, which with the 3.33 in 20.00 was due already; 10.00 more is owed for June
    expect(lines).toEqual({
      'course-income': -833,
      'deposits-held': 833,
      receivable: 1000,
      'billed-in-advance': -1000,
    });
    expect(await letter(booking.payerId, 'bookingMoved')).toContain('We keep £10 for the change.');
    const unpaid = await paidBooking(0);
    expect((await move(unpaid, to.id, { feeMinor: 1 })).json()).toMatchObject({
      type: '/problems/more-than-owed',
      paidMinor: 0,
    });
  });

  test('to another VAT rate: the tax of what is carried follows the course, and the papers say both', async () => {
    const booking = await paidBooking(3000);
    const to = await june({ taxRateId: home.exempt.id });
    expect(vatInside(3000, { kind: 'standard', percent: '20' })).toBe(500);
    expect(await posted(() => moved(booking, to))).toEqual({ vat: 500, 'deposits-held': -500 });
    const { notes, receipts } = await papers(booking.payerId);
    expect(notes[0]?.lines).toMatchObject([{ grossMinor: 3000, vatMinor: 500 }]);
    expect(receipts.at(-1)).toMatchObject({ kind: 'receipt', lines: [{ grossMinor: 3000, vatMinor: 0 }] });
    expect(receipts[0]).toMatchObject({ method: 'cash', lines: [{ vatMinor: 500 }] }); // stays as it was issued
  });

  test('what a voucher paid goes back on it, also from the course that it was moved to', async () => {
    const booking = await paidBooking(0);
    const voucher = await sell(booking.payerId, 5000);
    expect((await pay(booking.payerId, booking.chargeId, 5000, voucher.code)).statusCode).toBe(201);
    const { booking: there } = await moved(booking, await june({ priceMinor: 4000, depositMinor: 0 }));
    expect(await left(voucher.id)).toBe(1000); // 10.00 above the new price
    const last = (await moved(there, await june({ priceMinor: 4000, depositMinor: 0 }))).booking; // and once more
    const answer = await owner.post(`/api/bookings/${last.id}/cancellation`, { reason: 'Ill' });
    expect(answer.json()).toMatchObject({ refundMinor: 4000, onVoucherMinor: 4000 });
    expect(await left(voucher.id)).toBe(5000);
  });

  test('what was taxed as its voucher was sold pays only for the same tax', async () => {
    const booking = await paidBooking(0);
    const voucher = await sell(booking.payerId, 5000, { taxRateId: home.standard.id });
    await pay(booking.payerId, booking.chargeId, 5000, voucher.code);
    expect((await move(booking, (await june({ taxRateId: home.exempt.id })).id)).json().type).toBe(
      '/problems/voucher-other-tax',
    );
    await moved(booking, await june());
    const { notes, receipts } = await papers(booking.payerId);
    expect([notes[0]?.lines[0], receipts.at(-1)?.lines[0]]).toMatchObject([
      { grossMinor: 5000, vatMinor: 0, vatPercent: null },
      { grossMinor: 5000, vatMinor: 0, vatPercent: null },
    ]);
  });

  test('neither payment is undone after it: the booking is moved back instead', async () => {
    const booking = await paidBooking(3000);
    const payment = await db.payment.findFirstOrThrow({ where: { personId: booking.payerId } });
    await moved(booking, await june());
    const carried = await db.payment.findFirstOrThrow({
      where: { personId: booking.payerId, method: 'carried', amountMinor: { gt: 0 } },
    });
    const undo = async (id: string) => (await owner.post(`/api/payments/${id}/reversal`, { reason: 'Mistake' })).json();
    expect((await undo(payment.id)).detail).toContain('was carried over to another booking');
    expect((await undo(carried.id)).detail).toContain('Move the booking back instead');
    const { items } = (await owner.get(`/api/payments?personId=${booking.payerId}&method=carried`)).json();
    expect(items.map(({ amountMinor }: { amountMinor: number }) => amountMinor).sort()).toEqual([-3000, 3000]);
  });

  test('of a place that was cancelled before, what was kept stays where it is', async () => {
    const booking = await paidBooking(6000, 2);
    const [leaves] = booking.attendees;
    await owner.post(`/api/bookings/${booking.id}/cancellation`, {
      reason: 'Ill',
      attendeeIds: [leaves?.personId],
      refundMinor: 1000,
      method: 'cash',
    });
    const done = await moved(await get(booking.id), await june());
    // of 30.00 for each place 20.00 were kept of the first; the other's 30.00 are carried over
    expect(done).toMatchObject({
      priceBeforeMinor: 12_000,
      paidMinor: 3000,
      carriedMinor: 3000,
      from: { paidMinor: 2000, owedMinor: 0 },
    });
  });

  test('a concession of the same name is kept, and one that is not there is said', async () => {
    const concessions = [{ label: 'Student', priceMinor: 8000, atMost: null, payments: null }];
    const from = await home.addCourse({ concessions });
    const person = await personFixture(owner);
    const wish = {
      payerId: person.id,
      attendeeIds: [person.id],
      concessions: [{ attendeeId: person.id, concessionId: from.concessions[0]?.id }],
    };
    const booking = await made<Booking>(owner, `/api/courses/${from.id}/bookings`, wish);
    const there = await moved(booking, await june({ concessions: [{ ...concessions[0], priceMinor: 7000 }] }));
    expect(there).toMatchObject({
      priceBeforeMinor: 8000,
      booking: { priceMinor: 7000, attendees: [{ concession: 'Student' }] },
      lostConcessions: [],
    });
    const last = await moved(there.booking, await june());
    expect(last).toMatchObject({ booking: { priceMinor: 12_000 }, lostConcessions: [{ concession: 'Student' }] });
  });
});

test('a group’s private session is moved to another one, with what each further person costs', async () => {
  const body = { ...planBody(home), kind: 'private', groupOf: 4, places: 8, minimum: 1, secondTutor: null };
  const plan = await made<Plan>(owner, '/api/course-plans', body);
  const terms = { planId: plan.id, perHeadAboveMinor: 2000, minimum: 1, concessions: [] };
  const [from, to] = [(await home.addCourse(terms)) as Course, await june({ ...terms, priceMinor: 15_000 })];
  const booking = await paidBooking(3000, 5, from); // 120.00 for four and 20.00 for the fifth
  const done = await moved(booking, to);
  expect(done).toMatchObject({
    priceBeforeMinor: 14_000,
    carriedMinor: 3000,
    booking: { priceMinor: 17_000, paidMinor: 3000 },
  });
  expect((await move(await paidBooking(0, 2), to.id)).json()).toMatchObject({
    type: '/problems/course-full',
    placesLeft: 0,
  });
});
