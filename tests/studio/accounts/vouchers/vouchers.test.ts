import { randomUUID } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { isVoucherCode } from '../../../../src/trade/text/voucher-code.js';
import { testApp } from '../../../support/app.js';
import { till } from '../../../support/fixtures/vouchers.js';
import { personFixture, studioFixture } from '../../../support/fixtures.js';

/** Which field of a payment is wrong. */
const AT_CODE = [{ pointer: '#/voucherCode' }];
const studio = await testApp();
const { db, owner, tutor, clock } = studio;
const { standard, exempt } = await studioFixture(owner);
const { ask, sell, pay, left, posted } = till(studio, standard.id);

const contentOf = async (documentId: string) =>
  (await db.document.findUniqueOrThrow({ where: { id: documentId } })).content as Record<string, unknown>;

describe('selling a voucher', () => {
  test('that is taxed when used owes all of it, and its receipt is no VAT invoice', async () => {
    const ines = await personFixture(owner);
    const body = { buyerId: ines.id, amountMinor: 6000, method: 'cash', taxRateId: null, forWhom: 'Mira' };
    let sold = { code: '', documentId: '', receiptDocumentId: '' };
    const lines = await posted(async () => {
      const answer = await owner.post('/api/vouchers', body);
      expect(answer.statusCode).toBe(201);
      sold = answer.json();
    });
    expect(lines).toEqual({ cash: 6000, 'vouchers-outstanding': -6000 });
    expect(sold).toMatchObject({ leftMinor: 6000, state: 'open', taxed: 'when-used', taxName: null, forWhom: 'Mira' });
    expect(isVoucherCode(sold.code)).toBe(true);
    expect(await contentOf(sold.receiptDocumentId)).toMatchObject({
      kind: 'receipt',
      totalMinor: 6000,
      lines: [{ vatPercent: null, vatMinor: 0, taxLabel: 'no VAT yet (multi-purpose voucher)' }],
    });
    expect(await contentOf(sold.documentId)).toMatchObject({ code: sold.code, amountMinor: 6000, taxed: 'when-used' });
  });

  test('that is taxed when sold owes it net, and its receipt shows the VAT', async () => {
    const tomas = await personFixture(owner);
    let sold = { receiptDocumentId: '' };
    const lines = await posted(async () => {
      sold = await sell(tomas.id, 8000, { taxRateId: standard.id });
    });
    expect(lines).toEqual({ card: 8000, vat: -1333, 'vouchers-outstanding': -6667 });
    expect(sold).toMatchObject({ taxed: 'when-sold', taxName: 'Standard' });
    expect(await contentOf(sold.receiptDocumentId)).toMatchObject({
      kind: 'vat-simplified',
      lines: [{ vatPercent: '20', vatMinor: 1333, netMinor: 6667 }],
    });
  });

  test('sends the voucher and the receipt to the buyer, and both can be printed', async () => {
    const wren = await personFixture(owner);
    const sold = await sell(wren.id, 4500);
    const notices = await db.notice.findMany({ where: { personId: wren.id } });
    expect(notices.map((n) => [n.occasion, n.documentId])).toEqual(
      expect.arrayContaining([
        ['voucher', sold.documentId],
        ['receipt', sold.receiptDocumentId],
      ]),
    );
    for (const id of [sold.documentId, sold.receiptDocumentId]) {
      const pdf = await owner.get(`/api/documents/${id}/pdf`);
      expect(pdf.statusCode).toBe(200);
      expect(pdf.rawPayload.subarray(0, 5).toString()).toBe('%PDF-');
    }
  });

  test('with the same key is sold once', async () => {
    const odile = await personFixture(owner);
    const key = randomUUID();
    const body = { buyerId: odile.id, amountMinor: 3000, method: 'card', taxRateId: null };
    const answers = await Promise.all(Array.from({ length: 5 }, () => owner.post('/api/vouchers', body, key)));
    expect(new Set(answers.map((a) => a.body)).size).toBe(1);
    expect(await db.voucher.count({ where: { buyerId: odile.id } })).toBe(1);
  });

  test('refuses nothing, a day gone by, a name that cannot be printed, a stranger, a tutor', async () => {
    const amal = await personFixture(owner);
    const body = { buyerId: amal.id, amountMinor: 3000, method: 'card', taxRateId: null };
    const refused = async (more: object) => (await owner.post('/api/vouchers', { ...body, ...more })).json();
    expect(await refused({ amountMinor: 0 })).toMatchObject({ errors: [{ pointer: '#/amountMinor' }] });
    expect(await refused({ method: 'voucher' })).toMatchObject({ errors: [{ pointer: '#/method' }] });
    expect(await refused({ validUntil: '2026-03-09' })).toMatchObject({ errors: [{ pointer: '#/validUntil' }] });
    expect(await refused({ forWhom: '陶' })).toMatchObject({ errors: [{ pointer: '#/forWhom' }] });
    expect(await refused({ buyerId: randomUUID() })).toMatchObject({ type: '/problems/not-found' });
    expect(await refused({ taxRateId: randomUUID() })).toMatchObject({ status: 404 });
    expect((await tutor.post('/api/vouchers', body)).statusCode).toBe(403);
    expect((await tutor.get('/api/vouchers')).statusCode).toBe(403);
    expect(await db.voucher.count({ where: { buyerId: amal.id } })).toBe(0);
  });
});

describe('paying with a voucher', () => {
  test('taxed when used: its VAT falls due with the payment, and the rest stays', async () => {
    const ines = await personFixture(owner);
    const voucher = await sell(ines.id, 10_000);
    const chargeId = await ask(ines.id, 6000);
    const lines = await posted(async () => {
      const answer = await pay(ines.id, chargeId, 6000, voucher.code);
      expect(answer.json()).toMatchObject({ method: 'voucher', amountMinor: 6000, voucherLeftMinor: 4000 });
      expect(await contentOf(answer.json().documentId)).toMatchObject({
        kind: 'vat-simplified',
        voucher: { code: voucher.code, leftMinor: 4000, taxed: 'when-used' },
        lines: [{ vatMinor: 1000 }],
      });
    });
    expect(lines).toEqual({
      'vouchers-outstanding': 6000,
      receivable: -6000,
      'billed-in-advance': 6000,
      'deposits-held': -5000,
      vat: -1000,
    });
    expect(await left(voucher.id)).toBe(4000);
  });

  test('taxed when sold: no VAT again, and its receipt is no second invoice', async () => {
    const tomas = await personFixture(owner);
    const voucher = await sell(tomas.id, 6000, { taxRateId: standard.id });
    const chargeId = await ask(tomas.id, 6000);
    const lines = await posted(async () => {
      const answer = await pay(tomas.id, chargeId, 6000, voucher.code);
      expect(answer.statusCode).toBe(201);
      expect(await contentOf(answer.json().documentId)).toMatchObject({
        kind: 'receipt',
        voucher: { leftMinor: 0, taxed: 'when-sold' },
        lines: [{ vatMinor: 0, vatPercent: null, taxLabel: 'VAT paid on voucher' }],
      });
    });
    expect(lines).toEqual({
      'vouchers-outstanding': 5000,
      receivable: -6000,
      'billed-in-advance': 6000,
      'deposits-held': -5000,
    });
    expect((await owner.get(`/api/vouchers/${voucher.id}`)).json()).toMatchObject({ leftMinor: 0, state: 'used' });
  });

  test('pays several charges at once, and reads a code as people write it', async () => {
    const halina = await personFixture(owner);
    const voucher = await sell(halina.id, 5000);
    const [a, b] = [await ask(halina.id, 2000), await ask(halina.id, 4000)];
    const typed = `${voucher.code.slice(0, 3)}-${voucher.code.slice(3, 7)} ${voucher.code.slice(7)}`.toLowerCase();
    const answer = await owner.post('/api/payments', {
      personId: halina.id,
      method: 'voucher',
      voucherCode: typed,
      for: [
        { chargeId: a, amountMinor: 2000 },
        { chargeId: b, amountMinor: 3000 },
      ],
    });
    expect(answer.json()).toMatchObject({ amountMinor: 5000, voucherLeftMinor: 0 });
    expect((await pay(halina.id, b, 1000)).statusCode).toBe(201);
  });

  test('refuses more than is left and says what is', async () => {
    const ida = await personFixture(owner);
    const voucher = await sell(ida.id, 5000);
    const chargeId = await ask(ida.id, 8000);
    const answer = (await pay(ida.id, chargeId, 5001, voucher.code)).json();
    expect(answer).toMatchObject({ type: '/problems/voucher-spent', leftMinor: 5000, errors: AT_CODE });
    expect(answer.detail).toContain('Only £50 is left');
    await pay(ida.id, chargeId, 5000, voucher.code);
    expect((await pay(ida.id, chargeId, 1, voucher.code)).json().detail).toContain('Nothing is left');
  });

  test('refuses a wrong sign, an unknown code, another VAT, a day gone by, a code without the method', async () => {
    const bo = await personFixture(owner);
    const chargeId = await ask(bo.id, 8000);
    const firing = await ask(bo.id, 8000, { kind: 'firing', taxRateId: exempt.id, description: 'Bisque firing 3' });
    const voucher = await sell(bo.id, 5000, { taxRateId: standard.id, validUntil: '2026-03-31' });
    const wrong = `${voucher.code.slice(0, 9)}${voucher.code.endsWith('2') ? '3' : '2'}`;
    const refused = async (code: string, id = chargeId) => (await pay(bo.id, id, 100, code)).json();
    expect(await refused(wrong)).toMatchObject({ status: 422, errors: [{ pointer: '#/voucherCode' }] });
    expect(await refused('2222222222')).toMatchObject({ type: '/problems/not-found', errors: AT_CODE });
    const other = await refused(voucher.code, firing);
    expect(other).toMatchObject({ type: '/problems/voucher-other-tax', errors: AT_CODE });
    expect(other.detail).toMatch(/taxed as Standard, and "Bisque firing 3" is taxed as Exempt/);
    const body = { personId: bo.id, for: [{ chargeId, amountMinor: 100 }] };
    for (const bad of [{ method: 'voucher' }, { method: 'card', voucherCode: voucher.code }])
      expect((await owner.post('/api/payments', { ...body, ...bad })).json()).toMatchObject({
        errors: [{ pointer: '#/voucherCode' }],
      });
    await clock.set('2026-03-31T12:00:00Z');
    expect((await pay(bo.id, chargeId, 100, voucher.code)).statusCode).toBe(201);
    await clock.set('2026-04-01T12:00:00Z');
    expect(await refused(voucher.code)).toMatchObject({
      type: '/problems/voucher-expired',
      validUntil: '2026-03-31',
      errors: AT_CODE,
    });
    expect((await owner.get(`/api/vouchers/${voucher.id}`)).json()).toMatchObject({
      state: 'expired',
      leftMinor: 4900,
    });
    await clock.set('2026-03-10T09:00:00Z');
  });

  test('at many tills at once, it never goes below zero', async () => {
    const petra = await personFixture(owner);
    const voucher = await sell(petra.id, 5000);
    const charges = await Promise.all(Array.from({ length: 12 }, () => ask(petra.id, 1000)));
    const answers = await Promise.all(charges.map((id) => pay(petra.id, id, 1000, voucher.code)));
    expect(answers.filter((a) => a.statusCode === 201)).toHaveLength(5);
    for (const answer of answers.filter((a) => a.statusCode !== 201))
      expect(answer.json()).toMatchObject({ type: '/problems/voucher-spent' });
    expect(await left(voucher.id)).toBe(0);
  });
});

describe('vouchers', () => {
  test('are listed by pages, and found by their code', async () => {
    const ren = await personFixture(owner, 'Ren Adeyemi');
    const sold = [await sell(ren.id, 1000), await sell(ren.id, 2000, { goodFor: 'one taster evening' })];
    const first = (await owner.get('/api/vouchers?limit=1')).json();
    expect(first.items).toHaveLength(1);
    expect(first.next).not.toBeNull();
    const typed = encodeURIComponent(` ${sold[1]?.code.toLowerCase()} `);
    const { items } = (await owner.get(`/api/vouchers?code=${typed}`)).json();
    expect(items).toMatchObject([{ id: sold[1]?.id, buyerName: 'Ren Adeyemi', goodFor: 'one taster evening' }]);
    expect((await owner.get(`/api/vouchers/${randomUUID()}`)).statusCode).toBe(404);
  });

  test('are never changed, nor moved below zero, not even by hand', async () => {
    const luc = await personFixture(owner);
    const { id } = await sell(luc.id, 1000);
    await expect(db.voucher.updateMany({ data: { amountMinor: 1 } })).rejects.toThrow();
    await expect(db.voucherMove.deleteMany()).rejects.toThrow();
    const byHand = db.$executeRaw`WITH e AS (
        INSERT INTO journal_entry VALUES (gen_random_uuid(), '2026-03-10', now(), 'By hand') RETURNING id), p AS (
        INSERT INTO posting SELECT gen_random_uuid(), e.id, a, NULL, m FROM e, (VALUES ('cash', -1), ('vouchers-outstanding', 1)) x(a, m))
      INSERT INTO voucher_move SELECT gen_random_uuid(), ${id}::uuid, 'used', -1001, '2026-03-10', id FROM e`;
    await expect(byHand).rejects.toThrow(/holds -1/);
  });
});
