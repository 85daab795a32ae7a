import { randomUUID } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { inTransaction } from '../../../../src/database/transaction.js';
import {
  cancelCharge,
  createCharge,
  type NewCharge,
  recordSupply,
} from '../../../../src/studio/accounts/charges/charges.js';
import { testApp } from '../../../support/app.js';
import { personFixture, studioFixture } from '../../../support/fixtures.js';

const { db, owner, tutor, clock } = await testApp();
const { standard, exempt } = await studioFixture(owner);

const ask = (personId: string, grossMinor: number, more: Partial<NewCharge> = {}) =>
  inTransaction(db, (tx) =>
    createCharge(tx, clock.now(), {
      personId,
      kind: 'course',
      description: 'Lidded jars, from 7 April',
      grossMinor,
      taxRateId: standard.id,
      inAdvance: true,
      instalments: [{ dueOn: '2026-03-10', amountMinor: grossMinor }],
      ...more,
    }),
  );
const pay = (personId: string, chargeId: string, amountMinor: number, key?: string) =>
  owner.post('/api/payments', { personId, method: 'card', for: [{ chargeId, amountMinor }] }, key);
const balanceOf = async (code: string) => {
  const { items } = (await owner.get('/api/account-balances')).json();
  return items.find((a: { code: string }) => a.code === code).balanceMinor;
};

describe('taking a payment', () => {
  test('gives a receipt, and holds a deposit net of its VAT', async () => {
    const ines = await personFixture(owner);
    const chargeId = await ask(ines.id, 24_000);
    const before = { held: await balanceOf('deposits-held'), vat: await balanceOf('vat') };
    const answer = await pay(ines.id, chargeId, 6000);
    expect(answer.statusCode).toBe(201);
    expect(answer.json()).toMatchObject({ amountMinor: 6000, receiptNumber: expect.stringMatching(/^R-\d{6}$/) });
    expect((await balanceOf('deposits-held')) - before.held).toBe(-5000);
    expect((await balanceOf('vat')) - before.vat).toBe(-1000);
    const mail = await db.notice.findFirstOrThrow({ where: { personId: ines.id, occasion: 'receipt' } });
    expect(mail.documentId).toBe(answer.json().documentId);
  });

  // VAT in the parts of one price: 80.00 paid as 40.00 + 40.00 bears 13.33, not 6.67 twice (a published rounding trap, derived)
  test('bears the VAT of the whole over its parts', async () => {
    const tomas = await personFixture(owner);
    const chargeId = await ask(tomas.id, 8000);
    const before = await balanceOf('vat');
    await pay(tomas.id, chargeId, 4000);
    await pay(tomas.id, chargeId, 4000);
    expect((await balanceOf('vat')) - before).toBe(-1333);
  });

  test('twice is refused, and has no second effect', async () => {
    const halina = await personFixture(owner);
    const chargeId = await ask(halina.id, 5000);
    expect((await pay(halina.id, chargeId, 5000)).statusCode).toBe(201);
    const again = await pay(halina.id, chargeId, 5000);
    expect(again.statusCode).toBe(409);
    expect(again.json()).toMatchObject({ type: '/problems/nothing-owed', errors: [{ pointer: '#/for/0/chargeId' }] });
    expect((await pay(halina.id, chargeId, 1)).statusCode).toBe(409);
    expect(await db.payment.count({ where: { personId: halina.id } })).toBe(1);
  });

  test('with the same key is taken once', async () => {
    const wren = await personFixture(owner);
    const chargeId = await ask(wren.id, 5000);
    const key = randomUUID();
    const answers = await Promise.all(Array.from({ length: 10 }, () => pay(wren.id, chargeId, 2500, key)));
    expect(new Set(answers.map((a) => a.body)).size).toBe(1);
    expect(await db.payment.count({ where: { personId: wren.id } })).toBe(1);
    expect((await pay(wren.id, chargeId, 2400, key)).json()).toMatchObject({ type: '/problems/key-reused' });
  });

  test('at many tills at once takes no more than is owed, and numbers without gaps', async () => {
    const odile = await personFixture(owner);
    const chargeId = await ask(odile.id, 5000);
    const answers = await Promise.all(Array.from({ length: 20 }, () => pay(odile.id, chargeId, 1000)));
    expect(answers.filter((a) => a.statusCode === 201)).toHaveLength(5);
    const numbers = (await db.receipt.findMany({ orderBy: { number: 'asc' } })).map((r) => r.number);
    expect(numbers).toEqual(numbers.map((_, i) => i + 1));
  });

  test('refuses more than is owed, somebody else, nothing and a stranger', async () => {
    const amal = await personFixture(owner);
    const petra = await personFixture(owner);
    const chargeId = await ask(amal.id, 5000);
    expect((await pay(amal.id, chargeId, 5001)).json()).toMatchObject({
      type: '/problems/more-than-owed',
      owedMinor: 5000,
      errors: [{ pointer: '#/for/0/amountMinor' }],
    });
    expect((await pay(petra.id, chargeId, 100)).json()).toMatchObject({
      ...{ type: '/problems/not-found', errors: [{ pointer: '#/for/0/chargeId' }] },
    });
    const of = [
      { chargeId: await ask(amal.id, 100), amountMinor: 100 },
      { chargeId, amountMinor: 5001 },
    ];
    const second = await owner.post('/api/payments', { personId: amal.id, method: 'cash', for: of });
    expect(second.json()).toMatchObject({
      type: '/problems/more-than-owed',
      errors: [{ pointer: '#/for/1/amountMinor' }],
    });
    expect((await pay(amal.id, chargeId, 0)).json()).toMatchObject({
      type: '/problems/invalid-request',
      errors: [{ pointer: '#/for/0/amountMinor' }],
    });
    expect((await pay(amal.id, randomUUID(), 100)).statusCode).toBe(404);
    expect((await tutor.post('/api/payments', {})).statusCode).toBe(403);
    expect(await db.payment.count({ where: { personId: { in: [amal.id, petra.id] } } })).toBe(0);
  });

  // A simplified invoice is enough up to 250.00 with VAT; above, it must name the customer's address (VAT Regulations 1995 reg 16A, 14)
  test('above the limit of a simplified VAT invoice needs an address', async () => {
    const ren = (await owner.post('/api/people', { name: 'Ren Okoro' })).json();
    const chargeId = await ask(ren.id, 25_001);
    expect((await pay(ren.id, chargeId, 5000)).json()).toMatchObject({ type: '/problems/address-missing' });
    await owner.put(`/api/people/${ren.id}`, { name: 'Ren Okoro', addressLines: ['1 Quay'] });
    expect((await pay(ren.id, chargeId, 5000)).statusCode).toBe(201);
  });
});

describe('a charge', () => {
  test('of what was supplied is income at once, with its VAT', async () => {
    const luc = await personFixture(owner);
    const before = { vat: await balanceOf('vat'), income: await balanceOf('firing-income') };
    await ask(luc.id, 768, { kind: 'firing', inAdvance: false, description: 'Glaze firing 14' });
    expect((await balanceOf('vat')) - before.vat).toBe(-128);
    expect((await balanceOf('firing-income')) - before.income).toBe(-640);
    const { items } = (await owner.get('/api/debtors')).json();
    expect(items.find((d: { personId: string }) => d.personId === luc.id)).toMatchObject({
      owedMinor: 768,
      firingOwedMinor: 768,
    });
  });

  test('billed in advance is income once it is supplied, whatever was paid', async () => {
    const ida = await personFixture(owner);
    const chargeId = await ask(ida.id, 12_000);
    await pay(ida.id, chargeId, 3000);
    const before = {
      vat: await balanceOf('vat'),
      income: await balanceOf('course-income'),
      held: await balanceOf('deposits-held'),
    };
    await inTransaction(db, (tx) => recordSupply(tx, clock.now(), chargeId));
    await inTransaction(db, (tx) => recordSupply(tx, clock.now(), chargeId));
    expect((await balanceOf('course-income')) - before.income).toBe(-10_000);
    expect((await balanceOf('vat')) - before.vat).toBe(-1500);
    expect((await balanceOf('deposits-held')) - before.held).toBe(2500);
  });

  test('called off is refunded in part, with a credit note, and the rest is kept', async () => {
    const bo = await personFixture(owner);
    const chargeId = await ask(bo.id, 12_000);
    await pay(bo.id, chargeId, 6000);
    const before = {
      vat: await balanceOf('vat'),
      income: await balanceOf('course-income'),
      card: await balanceOf('card'),
    };
    const how = { refundMinor: 3000, method: 'card' as const, reason: 'Booked twice' };
    await inTransaction(db, (tx) => cancelCharge(tx, clock.now(), chargeId, how));
    expect((await balanceOf('card')) - before.card).toBe(-3000);
    expect((await balanceOf('vat')) - before.vat).toBe(500);
    expect((await balanceOf('course-income')) - before.income).toBe(-2500);
    expect(await db.creditNote.count({ where: { credit: { chargeId } } })).toBe(1);
    expect((await pay(bo.id, chargeId, 100)).json()).toMatchObject({ type: '/problems/nothing-owed' });
  });

  test('is taxed as its rate says', async () => {
    const ana = await personFixture(owner);
    const before = await balanceOf('vat');
    await ask(ana.id, 9999, { taxRateId: exempt.id, inAdvance: false });
    expect(await balanceOf('vat')).toBe(before);
  });

  test('is never changed, not even by hand', async () => {
    await expect(db.charge.updateMany({ data: { grossMinor: 1 } })).rejects.toThrow();
    await expect(db.posting.deleteMany()).rejects.toThrow();
  });
});
