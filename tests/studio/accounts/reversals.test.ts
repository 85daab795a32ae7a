import { randomUUID } from 'node:crypto';
import { beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { CreditNoteContent } from '../../../src/documents/credit-note-content.js';
import { testApp } from '../../support/app.js';
import { bookingFixture, payFor } from '../../support/fixtures/bookings.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { till } from '../../support/fixtures/vouchers.js';
import { personFixture } from '../../support/fixtures.js';

// After each test the rules of the books are looked at: entries balance, what is owed is what the charges say, and VAT falls due on its day.

const { db, owner, tutor, clock } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
});
beforeEach(() => clock.set('2026-03-10T09:00:00Z'));

const atTill = () => till({ db, owner, clock }, home.standard.id);
const reverse = (paymentId: string, reason = 'Entered twice', key?: string) =>
  owner.post(`/api/payments/${paymentId}/reversal`, { reason }, key);
const balances = async (): Promise<Record<string, number>> => {
  const { items } = (await owner.get('/api/account-balances')).json();
  return Object.fromEntries(
    items.map(({ code, balanceMinor }: { code: string; balanceMinor: number }) => [code, balanceMinor]),
  );
};
const bookingOf = async (id: string) => (await owner.get(`/api/bookings/${id}`)).json();
async function booked(payMinor: number) {
  const course = await home.addCourse();
  const booking = await bookingFixture(owner, course.id);
  const before = await balances();
  const answer = await payFor(owner, booking, payMinor);
  if (answer.statusCode !== 201) throw new Error(answer.body);
  return { course, ines: { id: booking.payerId }, booking, before, payment: answer.json() };
}

describe('a payment that was entered by mistake', () => {
  test('is taken back: the books are as before it, and what it paid is owed again', async () => {
    const { booking, before, payment, ines } = await booked(3_000);
    const answer = await reverse(payment.id);
    expect(answer.statusCode).toBe(201);
    expect(answer.json()).toMatchObject({
      ...{ paymentId: payment.id, amountMinor: payment.amountMinor, voucherLeftMinor: null },
      creditNoteNumber: expect.stringMatching(/^C-\d{6}$/),
    });
    expect(await balances()).toEqual(before);
    expect(await bookingOf(booking.id)).toMatchObject({
      state: 'provisional',
      paidMinor: 0,
      owedMinor: booking.priceMinor,
    });
    const entry = await db.journalEntry.findFirstOrThrow({ where: { payment: { id: answer.json().reversalId } } });
    const wrong = await db.payment.findUniqueOrThrow({ where: { id: payment.id } });
    expect(entry.correctsId).toBe(wrong.entryId);
    const { items } = (await owner.get(`/api/payments?personId=${ines.id}`)).json();
    expect(items).toMatchObject([
      { amountMinor: -payment.amountMinor, reversesId: payment.id, reversal: null },
      { id: payment.id, reversal: { reason: 'Entered twice', creditNoteNumber: answer.json().creditNoteNumber } },
    ]);
  });

  test('its receipt is taken back by a credit note with its VAT, and the person hears of it', async () => {
    const { payment, ines } = await booked(3_000);
    const { documentId, creditNoteNumber } = (await reverse(payment.id)).json();
    const { content } = await db.document.findUniqueOrThrow({ where: { id: documentId } });
    expect(CreditNoteContent.parse(content)).toMatchObject({
      ...{
        number: creditNoteNumber,
        reason: 'Entered twice',
        totalMinor: 3_000,
        settlement: { how: 'reversed', voucher: null },
      },
      corrects: [{ number: payment.receiptNumber }],
      lines: [{ grossMinor: 3_000, vatMinor: 500, vatPercent: '20' }],
    });
    expect((await owner.get(`/api/documents/${documentId}/pdf`)).statusCode).toBe(200);
    const { items } = (await owner.get(`/api/notices?personId=${ines.id}&order=newest`)).json();
    expect(items[0]).toMatchObject({ occasion: 'paymentReversed', documentId });
    const { items: papers } = (await owner.get(`/api/papers?q=${creditNoteNumber}`)).json();
    expect(papers).toMatchObject([{ number: creditNoteNumber, personId: ines.id, amountMinor: 3_000 }]);
  });

  test('a place that it confirmed is held again, from now on, and lapses as any other', async () => {
    const { booking, payment, course } = await booked(3_000);
    expect((await bookingOf(booking.id)).state).toBe('confirmed');
    await clock.set('2026-03-13T09:00:00Z'); // the first hold ran out the day before
    const [told] = (await reverse(payment.id)).json().bookings;
    expect(told).toMatchObject({ bookingId: booking.id, courseTitle: course.title, state: 'provisional' });
    expect(told.said).toContain('held again until');
    expect(await bookingOf(booking.id)).toMatchObject({ state: 'provisional', heldUntil: '2026-03-15T09:00:00.000Z' });
  });

  test('of two payments for one place the other stays, and pays for it', async () => {
    const { booking, payment } = await booked(3_000);
    const second = (await payFor(owner, booking, 4_000)).json();
    expect((await reverse(payment.id)).json().bookings[0]).toMatchObject({ state: 'confirmed' });
    expect(await bookingOf(booking.id)).toMatchObject({ state: 'confirmed', paidMinor: 4_000 });
    expect((await reverse(second.id)).json().bookings[0]).toMatchObject({ state: 'provisional' });
    expect(await bookingOf(booking.id)).toMatchObject({ paidMinor: 0 });
  });

  test('a refund afterwards goes back the way of the payment that was right', async () => {
    const { booking, payment } = await booked(3_000);
    const right = await owner.post('/api/payments', {
      ...{ personId: booking.payerId, method: 'transfer', for: [{ chargeId: booking.chargeId, amountMinor: 5_000 }] },
    });
    expect(right.statusCode).toBe(201);
    await reverse(payment.id);
    const cancelled = await owner.post(`/api/bookings/${booking.id}/cancellation`, {
      reason: 'ill',
      method: 'transfer',
      refundMinor: 5_000,
    });
    expect(cancelled.statusCode).toBe(201);
    const note = await db.document.findFirstOrThrow({ where: { kind: 'creditNote' }, orderBy: { id: 'desc' } });
    expect(CreditNoteContent.parse(note.content).corrects).toHaveLength(1);
    expect((await reverse(right.json().id)).json()).toMatchObject({
      ...{ type: '/problems/not-reversible', detail: expect.stringContaining('was refunded on 2026-03-10') },
    });
  });

  test('by a voucher: the sum is on it again, with its VAT as it was', async () => {
    const sold = await atTill().sell((await personFixture(owner)).id, 5_000);
    const course = await home.addCourse();
    const booking = await bookingFixture(owner, course.id);
    const before = await balances();
    const paid = await owner.post('/api/payments', {
      ...{ personId: booking.payerId, method: 'voucher', voucherCode: sold.code },
      for: [{ chargeId: booking.chargeId, amountMinor: 3_000 }],
    });
    expect(paid.statusCode, paid.body).toBe(201);
    expect((await reverse(paid.json().id)).json()).toMatchObject({ voucherLeftMinor: 5_000 });
    expect(await balances()).toEqual(before);
  });

  test('of what was supplied: the VAT stays due, and the sum is owed', async () => {
    const { booking, payment, course } = await booked(3_000);
    const last = course.sessions.at(-1)?.endsAt ?? '';
    await clock.set(new Date(Date.parse(last) + 3_600_000).toISOString());
    expect((await owner.post(`/api/courses/${course.id}/completion`)).statusCode).toBe(201);
    const { vat, receivable = 0 } = await balances();
    const [told] = (await reverse(payment.id)).json().bookings;
    expect(told.said).toContain('has begun');
    const after = await balances();
    expect([after.vat, after.receivable]).toEqual([vat, receivable + 3_000]);
    expect((await bookingOf(booking.id)).owedMinor).toBe(booking.priceMinor);
  });

  test('is taken back once for a key, and once of two at once', async () => {
    const { payment } = await booked(3_000);
    const key = randomUUID();
    const [one, again] = [await reverse(payment.id, 'Twice', key), await reverse(payment.id, 'Twice', key)];
    expect(again.body).toBe(one.body);
    const { payment: other } = await booked(3_000);
    const answers = await Promise.all([reverse(other.id), reverse(other.id), reverse(other.id)]);
    expect(answers.map(({ statusCode }) => statusCode).sort()).toEqual([201, 409, 409]);
    const refused = answers.find(({ statusCode }) => statusCode === 409);
    expect(refused?.json()).toMatchObject({
      type: '/problems/not-reversible',
      detail: expect.stringContaining('by credit note C-'),
    });
    expect(await db.paymentReversal.count({ where: { paymentId: other.id } })).toBe(1);
  });

  test('is refused where it is none, without a reason, and for a tutor', async () => {
    const { payment } = await booked(3_000);
    const { reversalId } = (await reverse(payment.id)).json();
    expect((await reverse(reversalId)).json()).toMatchObject({ type: '/problems/not-reversible' });
    expect((await reverse(randomUUID())).statusCode).toBe(404);
    expect((await reverse(payment.id, '  ')).statusCode).toBe(422);
    expect((await tutor.post(`/api/payments/${payment.id}/reversal`, { reason: 'x' })).statusCode).toBe(403);
    const sold = await atTill().sell((await personFixture(owner)).id, 5_000);
    const bought = await db.payment.findFirstOrThrow({ where: { entry: { voucherMove: { voucherId: sold.id } } } });
    expect((await reverse(bought.id)).json()).toMatchObject({ detail: expect.stringContaining('bought a voucher') });
  });
});
