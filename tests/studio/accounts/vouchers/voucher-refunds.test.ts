import { afterEach, describe, expect, test } from 'vitest';
import { inTransaction } from '../../../../src/database/transaction.js';
import { cancelCharge } from '../../../../src/studio/accounts/charges/charges.js';
import { testApp } from '../../../support/app.js';
import { till } from '../../../support/fixtures/vouchers.js';
import { personFixture, studioFixture } from '../../../support/fixtures.js';

const studio = await testApp();
const { db, owner, tutor, clock } = studio;
const { standard } = await studioFixture(owner);
const { ask, sell, pay, left, posted } = till(studio, standard.id);
afterEach(() => clock.set('2026-03-10T09:00:00Z'));

const callOff = (chargeId: string, refundMinor: number, method: 'card' | 'none' = 'card') => {
  const how = { refundMinor, reason: 'Moved away', ...(method === 'none' ? {} : { method }) };
  return inTransaction(db, (tx) => cancelCharge(tx, clock.now(), chargeId, how));
};
const creditNoteOf = async (chargeId: string) =>
  (await db.creditNote.findFirstOrThrow({ where: { credit: { chargeId } }, include: { document: true } })).document;

describe('a refund of what a voucher paid', () => {
  test.each([
    // paid by voucher first and then by card: the card's part goes back first
    { order: ['voucher', 'card'], back: 5000, onVoucher: 1000, inMoney: 4000 },
    { order: ['card', 'voucher'], back: 5000, onVoucher: 5000, inMoney: 0 },
    { order: ['card', 'voucher'], back: 10_000, onVoucher: 6000, inMoney: 4000 },
  ])('goes back on it, the last paid first: $order, $back', async ({ order, back, onVoucher, inMoney }) => {
    const ines = await personFixture(owner);
    const voucher = await sell(ines.id, 8000);
    const chargeId = await ask(ines.id, 12_000);
    for (const way of order)
      if (way === 'card') await pay(ines.id, chargeId, 4000);
      else await pay(ines.id, chargeId, 6000, voucher.code);
    const lines = await posted(() => callOff(chargeId, back));
    expect(lines).toMatchObject({ receivable: -2000 });
    expect([(lines.card ?? 0) + inMoney, (lines['vouchers-outstanding'] ?? 0) + onVoucher]).toEqual([0, 0]);
    expect(await left(voucher.id)).toBe(2000 + onVoucher);
  });

  test('takes its VAT back where it fell due on use', async () => {
    const tomas = await personFixture(owner);
    const voucher = await sell(tomas.id, 6000);
    const chargeId = await ask(tomas.id, 6000);
    await pay(tomas.id, chargeId, 6000, voucher.code);
    const lines = await posted(() => callOff(chargeId, 6000, 'none'));
    expect(lines).toEqual({ vat: 1000, 'deposits-held': 5000, 'vouchers-outstanding': -6000 });
    expect((await creditNoteOf(chargeId)).content).toMatchObject({
      kind: 'vat-simplified',
      lines: [{ vatMinor: 1000 }],
      settlement: { how: 'in-parts', parts: [{ method: 'voucher', voucher: { code: voucher.code, isNew: false } }] },
    });
  });

  test('takes none back where it was due when sold: it is on the voucher again', async () => {
    const wren = await personFixture(owner);
    const voucher = await sell(wren.id, 6000, { taxRateId: standard.id });
    const chargeId = await ask(wren.id, 8000);
    await pay(wren.id, chargeId, 2000);
    await pay(wren.id, chargeId, 6000, voucher.code);
    const lines = await posted(() => callOff(chargeId, 7000));
    // of 80.00 with 13.33 of VAT, 10.00 with 1.67 is kept: on it VAT stays due, and that of the card's part went back
    expect(lines).toEqual({
      card: -1000,
      'vouchers-outstanding': -5000,
      'deposits-held': 6667,
      'course-income': -833,
      vat: 166,
    });
    const { content } = await creditNoteOf(chargeId);
    expect(content).toMatchObject({
      lines: [
        { grossMinor: 6000, vatMinor: 0, taxLabel: 'VAT paid on voucher' },
        { grossMinor: 1000, vatMinor: 166 },
      ],
    });
  });

  test('goes on a new voucher where the day of the first has passed, valid for as long', async () => {
    const [giver, guest] = [await personFixture(owner), await personFixture(owner)];
    const voucher = await sell(giver.id, 6000, { validUntil: '2026-04-09' });
    const chargeId = await ask(guest.id, 6000);
    await pay(guest.id, chargeId, 5000, voucher.code);
    await clock.set('2026-05-01T09:00:00Z');
    await callOff(chargeId, 5000, 'none');
    expect(await left(voucher.id)).toBe(1000);
    const { items } = (await owner.get('/api/vouchers?limit=200')).json();
    const made = items.find((v: { buyerId: string }) => v.buyerId === guest.id);
    expect(made).toMatchObject({ amountMinor: 5000, leftMinor: 5000, validUntil: '2026-05-31', state: 'open' });
    const letter = await db.notice.findFirstOrThrow({ where: { personId: guest.id, occasion: 'voucher' } });
    expect(letter).toMatchObject({ documentId: made.documentId, data: { insteadOfExpired: true } });
    const note = await creditNoteOf(chargeId);
    expect(note.content).toMatchObject({ settlement: { parts: [{ voucher: { code: made.code, isNew: true } }] } });
    for (const id of [note.id, made.documentId])
      expect((await owner.get(`/api/documents/${id}/pdf`)).statusCode).toBe(200);
  });

  test('asks how money goes back, where some does', async () => {
    const bo = await personFixture(owner);
    const voucher = await sell(bo.id, 6000);
    const chargeId = await ask(bo.id, 6000);
    await pay(bo.id, chargeId, 1000);
    await pay(bo.id, chargeId, 5000, voucher.code);
    await expect(callOff(chargeId, 5500, 'none')).rejects.toMatchObject({ type: 'invalid-request' });
    expect(await left(voucher.id)).toBe(1000);
  });

  test('and a payment by the same voucher at once leave what they should', async () => {
    const petra = await personFixture(owner);
    const voucher = await sell(petra.id, 5000);
    const first = await ask(petra.id, 5000);
    await pay(petra.id, first, 5000, voucher.code);
    const others = await Promise.all(Array.from({ length: 6 }, () => ask(petra.id, 1000)));
    const [, ...answers] = await Promise.all([
      callOff(first, 5000, 'none'),
      ...others.map((id) => pay(petra.id, id, 1000, voucher.code)),
    ]);
    const taken = answers.filter((a) => a.statusCode === 201).length;
    expect(await left(voucher.id)).toBe(5000 - taken * 1000);
  });
});

describe('an expired voucher lapses', () => {
  const lapse = (id: string, body: object = {}, sender = owner) => sender.post(`/api/vouchers/${id}/lapse`, body);

  test('as income by the act of the owner, its VAT as they say where none was due yet', async () => {
    const odile = await personFixture(owner);
    const sold = [];
    for (let i = 0; i < 2; i++) sold.push(await sell(odile.id, 6000, { validUntil: '2026-03-31' }));
    await clock.set('2026-04-01T09:00:00Z');
    const [a, b] = sold.map(({ id }) => id) as [string, string];
    expect((await lapse(a)).json()).toMatchObject({ errors: [{ pointer: '#/taxRateId' }] });
    expect(await posted(() => lapse(a, { taxRateId: null }))).toEqual({
      'vouchers-outstanding': 6000,
      'vouchers-lapsed': -6000,
    });
    expect(await posted(() => lapse(b, { taxRateId: standard.id }))).toEqual({
      'vouchers-outstanding': 6000,
      vat: -1000,
      'vouchers-lapsed': -5000,
    });
    expect((await owner.get(`/api/vouchers/${a}`)).json()).toMatchObject({ state: 'lapsed', leftMinor: 0 });
    expect((await lapse(a, { taxRateId: null })).json()).toMatchObject({ type: '/problems/voucher-spent' });
  });

  test('net, where its VAT was due when it was sold', async () => {
    const ren = await personFixture(owner);
    const voucher = await sell(ren.id, 6000, { validUntil: '2026-03-31', taxRateId: standard.id });
    await clock.set('2026-04-01T09:00:00Z');
    expect((await lapse(voucher.id, { taxRateId: null })).json()).toMatchObject({
      errors: [{ pointer: '#/taxRateId' }],
    });
    expect(await posted(() => lapse(voucher.id))).toEqual({ 'vouchers-outstanding': 5000, 'vouchers-lapsed': -5000 });
  });

  test('not before its day has passed, not without one, not by a tutor, and once at many tills', async () => {
    const ida = await personFixture(owner);
    const endless = await sell(ida.id, 1000);
    const voucher = await sell(ida.id, 1000, { validUntil: '2026-03-31' });
    await clock.set('2026-03-31T21:00:00Z');
    for (const { id } of [endless, voucher])
      expect((await lapse(id, { taxRateId: null })).json()).toMatchObject({ type: '/problems/voucher-still-valid' });
    await clock.set('2026-04-01T09:00:00Z');
    expect((await lapse(voucher.id, { taxRateId: null }, tutor)).statusCode).toBe(403);
    const answers = await Promise.all(Array.from({ length: 5 }, () => lapse(voucher.id, { taxRateId: null })));
    expect(answers.map((a) => a.statusCode).sort()).toEqual([201, 409, 409, 409, 409]);
  });
});
