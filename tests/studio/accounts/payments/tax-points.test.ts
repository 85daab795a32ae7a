import { afterEach, describe, expect, test } from 'vitest';
import { inTransaction } from '../../../../src/database/transaction.js';
import { CreditNoteContent } from '../../../../src/documents/credit-note-content.js';
import { ReceiptContent } from '../../../../src/documents/receipt-content.js';
import { cancelCharge, recordSupply } from '../../../../src/studio/accounts/charges/charges.js';
import { findBrokenRules } from '../../../invariants.js';
import { testApp } from '../../../support/app.js';
import { pricedFixture, saleFixture } from '../../../support/fixtures/sales.js';
import { till } from '../../../support/fixtures/vouchers.js';
import { personFixture, studioFixture } from '../../../support/fixtures.js';
import { faultsAfter } from '../../../support/past-triggers.js';

const studio = await testApp();
const { db, owner, clock } = studio;
const { standard } = await studioFixture(owner);
const { ask, sell, pay } = till(studio, standard.id);

const on = (day: string) => clock.set(`${day}T11:00:00Z`);
afterEach(() => on('2026-03-10'));
const receipt = async (documentId: string) =>
  ReceiptContent.parse((await db.document.findUniqueOrThrow({ where: { id: documentId } })).content);
const pointsOf = async (documentId: string) => (await receipt(documentId)).lines.map(({ taxPoint }) => taxPoint);
/** VAT posted day by day since that day: each test has months of its own. */
const vatByDay = async (from: string) => {
  const rows = await db.posting.findMany({
    where: { accountCode: 'vat', entry: { postedOn: { gte: new Date(from) } } },
    include: { entry: true },
  });
  const days: Record<string, number> = {};
  for (const { amountMinor, entry } of rows) {
    const day = entry.postedOn.toISOString().slice(0, 10);
    days[day] = (days[day] ?? 0) - amountMinor;
  }
  return days;
};

describe('the tax point of what is supplied before it is paid', () => {
  // the rule is VATA 1994 s6(2) and (3): when goods are taken away, when a service is done
  test('a firing billed in July and paid in November has it in July', async () => {
    const ines = await personFixture(owner);
    await on('2026-07-08');
    const chargeId = await ask(ines.id, 6000, { kind: 'firing', inAdvance: false });
    await on('2026-11-20');
    const { documentId } = (await pay(ines.id, chargeId, 2500)).json();
    expect(await pointsOf(documentId)).toEqual(['2026-07-08']);
    expect(await receipt(documentId)).toMatchObject({ receivedOn: '2026-11-20', issuedOn: '2026-11-20' });
    expect(await vatByDay('2026-07-01')).toEqual({ '2026-07-08': 1000 });
  });

  test('what is taken home in July and paid in November has it in July', async () => {
    const tom = await personFixture(owner);
    await on('2027-07-08');
    const clay = await pricedFixture(owner, standard.id);
    const { chargeId } = await saleFixture(owner, tom.id, clay.id); // 8.40 with 1.40 of VAT
    await on('2027-11-20');
    const { documentId } = (await pay(tom.id, chargeId, 840)).json();
    expect(await pointsOf(documentId)).toEqual(['2027-07-08']);
    expect(await vatByDay('2027-07-01')).toEqual({ '2027-07-08': 140 });
  });
});

describe('the tax point of what is paid in advance', () => {
  // VATA 1994 s6(4): to the extent of the payment; each part payment has its own (VATTOS5105, VATTOS5120)
  test('is each payment, and of what is unpaid when it is supplied, that day', async () => {
    const tomas = await personFixture(owner);
    await on('2028-01-10');
    const chargeId = await ask(tomas.id, 24_000);
    const first = (await pay(tomas.id, chargeId, 6000)).json();
    await on('2028-02-11');
    const second = (await pay(tomas.id, chargeId, 6000)).json();
    await on('2028-03-12');
    await inTransaction(db, (tx) => recordSupply(tx, clock.now(), chargeId));
    await on('2028-06-13');
    const last = (await pay(tomas.id, chargeId, 12_000)).json();
    const points = [first, second, last].map(({ documentId }) => pointsOf(documentId));
    expect(await Promise.all(points)).toEqual([['2028-01-10'], ['2028-02-11'], ['2028-03-12']]);
    // 240.00 with 40.00 of VAT; 60.00 bears 10.00
    expect(await vatByDay('2028-01-01')).toEqual({ '2028-01-10': 1000, '2028-02-11': 1000, '2028-03-12': 2000 });
  });

  test('stands with its line, where one payment is for what came before and what is still to come', async () => {
    const wren = await personFixture(owner);
    await on('2029-07-08');
    const fired = await ask(wren.id, 1200, { kind: 'firing', inAdvance: false });
    await on('2029-11-20');
    const course = await ask(wren.id, 12_000);
    const body = { personId: wren.id, method: 'cash' };
    const parts = [
      { chargeId: fired, amountMinor: 1200 },
      { chargeId: course, amountMinor: 6000 },
    ];
    const { documentId } = (await owner.post('/api/payments', { ...body, for: parts })).json();
    expect(await pointsOf(documentId)).toEqual(['2029-07-08', '2029-11-20']);
    expect(await vatByDay('2029-07-01')).toEqual({ '2029-07-08': 200, '2029-11-20': 1000 });
  });
});

// VATA 1994 Sch 10B; Directive 2006/112/EC art. 30b
describe('the tax point of a voucher', () => {
  test('of one rate is its sale, and its use has none', async () => {
    const odile = await personFixture(owner);
    await on('2030-01-10');
    const sold = await sell(odile.id, 6000, { taxRateId: standard.id });
    expect(await pointsOf(sold.receiptDocumentId)).toEqual(['2030-01-10']);
    await on('2030-05-10');
    const chargeId = await ask(odile.id, 6000);
    const { documentId } = (await pay(odile.id, chargeId, 6000, sold.code)).json();
    expect(await pointsOf(documentId)).toEqual([null]);
    expect(await vatByDay('2030-01-01')).toEqual({ '2030-01-10': 1000 });
  });

  test('that is taxed when used is its use; of what was supplied before, its supply', async () => {
    const petra = await personFixture(owner);
    await on('2031-01-10');
    const sold = await sell(petra.id, 9000);
    expect(await pointsOf(sold.receiptDocumentId)).toEqual([null]);
    const fired = await ask(petra.id, 3000, { kind: 'firing', inAdvance: false });
    await on('2031-05-10');
    const course = await ask(petra.id, 6000);
    const paid = [await pay(petra.id, course, 6000, sold.code), await pay(petra.id, fired, 3000, sold.code)];
    const points = paid.map((answer) => pointsOf(answer.json().documentId));
    expect(await Promise.all(points)).toEqual([['2031-05-10'], ['2031-01-10']]);
    expect(await vatByDay('2031-01-01')).toEqual({ '2031-01-10': 500, '2031-05-10': 1000 });
  });
});

describe('the rules', () => {
  test.each<[string, string, RegExp]>([
    [
      'VAT that the books have on another day',
      `UPDATE journal_entry SET posted_on = posted_on + 1
        WHERE id = (SELECT entry_id FROM posting WHERE account_code = 'vat' LIMIT 1)`,
      /on 20\d\d-\d\d-\d\d the books are off by/,
    ],
    [
      'a receipt that prints another day',
      `UPDATE document SET content = jsonb_set(content, '{lines,0,taxPoint}', '"2026-01-01"')
        WHERE content #>> '{lines,0,taxPoint}' IS NOT NULL`,
      /has the tax point 2026-01-01, which is none of what it is for/,
    ],
  ])('find %s', async (_, sql, fault) => {
    const amal = await personFixture(owner);
    await pay(amal.id, await ask(amal.id, 5000), 5000);
    expect(await findBrokenRules(db)).toEqual([]);
    expect(await faultsAfter(studio.url, sql)).toMatch(fault);
  });
});

describe('how many a receipt is for', () => {
  test('follows the charge, less what was credited, and its price is that of the whole', async () => {
    const bo = await personFixture(owner);
    const chargeId = await ask(bo.id, 30_000, { quantity: 2 });
    const { documentId } = (await pay(bo.id, chargeId, 8000)).json();
    expect(await receipt(documentId)).toMatchObject({
      lines: [{ quantity: 2, netMinor: 6667, priceNetMinor: 25_000 }],
    });
  });
});

describe('a credit note', () => {
  test('names the address that the invoice named, also where it is no longer known', async () => {
    const eve = await personFixture(owner);
    const chargeId = await ask(eve.id, 30_000, { quantity: 2 });
    await pay(eve.id, chargeId, 30_000);
    const { id, ...said } = (await owner.get(`/api/people/${eve.id}`)).json();
    expect((await owner.put(`/api/people/${id}`, { ...said, addressLines: [] })).statusCode).toBe(200);
    const how = { refundMinor: 30_000, method: 'card' as const, reason: 'Ill.' };
    await inTransaction(db, (tx) => cancelCharge(tx, clock.now(), chargeId, how));
    const note = await db.creditNote.findFirstOrThrow({ where: { credit: { chargeId } }, include: { document: true } });
    expect(CreditNoteContent.parse(note.document.content)).toMatchObject({
      kind: 'vat-full',
      customer: { name: eve.name, addressLines: ['3 Mill Row', 'Ostlemere'] },
      lines: [{ quantity: 2 }],
    });
  });
});
