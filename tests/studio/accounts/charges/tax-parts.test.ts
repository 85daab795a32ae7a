import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { sqlState } from '../../../../src/database/sqlstate.js';
import { inTransaction } from '../../../../src/database/transaction.js';
import { CreditNoteContent } from '../../../../src/documents/credit-note-content.js';
import { ReceiptContent } from '../../../../src/documents/receipt-content.js';
import { type VatLine, vatSums } from '../../../../src/documents/vat-lines.js';
import { cancelCharge, creditPart, recordSupply } from '../../../../src/studio/accounts/charges/charges.js';
import { payParts, vatInside } from '../../../../src/trade/money/tax.js';
import { findBrokenRules } from '../../../invariants.js';
import { testApp } from '../../../support/app.js';
import { till } from '../../../support/fixtures/vouchers.js';
import { made, personFixture, STUDIO, studioFixture } from '../../../support/fixtures.js';
import { faultsAfter } from '../../../support/past-triggers.js';

const studio = await testApp();
const { db, owner, clock } = studio;
const { standard, exempt } = await studioFixture(owner);
const reduced = await made(owner, '/api/tax-rates', { name: 'Reduced', kind: 'standard', percent: '5' });
const { ask, sell, pay, posted } = till(studio, standard.id);

const TEACHING = { label: 'teaching', taxRateId: exempt.id, grossMinor: 8001 };
const BOOK = { label: 'a book', taxRateId: reduced.id, grossMinor: 1999 };
const mixed = (personId: string, parts = [TEACHING, BOOK], grossMinor = 12_001) => ask(personId, grossMinor, { parts });
const at = (percent: string) => ({ kind: 'standard', percent }) as const;
const PARTS = [
  { grossMinor: 2001, tax: at('20') },
  { grossMinor: 8001, tax: { kind: 'exempt' } as const },
  { grossMinor: 1999, tax: at('5') },
];

/** All lines of receipts, and of credit notes below zero, that were written for a charge, by rate. */
async function onPaper(chargeId: string) {
  const payments = { payment: { allocations: { some: { chargeId } } } };
  const receipts = await db.receipt.findMany({ where: payments, include: { document: true } });
  const notes = await db.creditNote.findMany({ where: { credit: { chargeId } }, include: { document: true } });
  const back = notes.flatMap(({ document }) => CreditNoteContent.parse(document.content).lines).map(negative);
  const lines = [...receipts.flatMap(({ document }) => ReceiptContent.parse(document.content).lines), ...back];
  return Object.fromEntries(
    vatSums(lines).map(({ taxLabel, grossMinor, vatMinor }) => [taxLabel, [grossMinor, vatMinor]]),
  );
}
const negative = (line: VatLine): VatLine => ({
  ...{ ...line, grossMinor: 0 - line.grossMinor },
  ...{ netMinor: 0 - line.netMinor, vatMinor: 0 - line.vatMinor },
});
const LABELS = ['VAT 20%', 'exempt from VAT', 'VAT 5%'];
const reckoned = (paidMinor: number) =>
  Object.fromEntries(payParts(PARTS, 0, paidMinor).map((p, i) => [LABELS[i], [p.amountMinor, p.vatMinor]]));

describe('a charge whose parts bear different taxes', () => {
  test('bears each on its receipts, line by line, and holds the deposit net of all its VAT', async () => {
    const ines = await personFixture(owner);
    const chargeId = await mixed(ines.id);
    const lines = await posted(async () => pay(ines.id, chargeId, 3000));
    // of 30.00: 5.00 at 20 %, 20.00 exempt, 5.00 at 5 %
    expect(lines).toMatchObject({ card: 3000, vat: -(83 + 24), 'deposits-held': -(3000 - 83 - 24) });
    const { document } = await db.receipt.findFirstOrThrow({
      where: { payment: { personId: ines.id } },
      include: { document: true },
    });
    expect(document.content).toMatchObject({
      kind: 'vat-full',
      lines: [
        { description: 'Lidded jars, from 7 April: everything else', grossMinor: 500, vatMinor: 83, vatPercent: '20' },
        { description: 'Lidded jars, from 7 April: teaching', grossMinor: 2000, vatMinor: 0, vatPercent: null },
        { description: 'Lidded jars, from 7 April: a book', grossMinor: 500, vatMinor: 24, vatPercent: '5' },
      ],
      supplies: [{ priceMinor: 12_001, paidNowMinor: 3000, stillToPayMinor: 9001 }],
    });
    expect((await owner.get(`/api/documents/${document.id}/pdf`)).statusCode).toBe(200);
  });

  test('names each of its parts, the rest as whoever asks calls it', async () => {
    const ben = await personFixture(owner);
    const chargeId = await ask(ben.id, 12_001, { parts: [TEACHING], restLabel: 'materials', quantity: 2 });
    await pay(ben.id, chargeId, 12_001);
    const { document } = await db.receipt.findFirstOrThrow({
      where: { payment: { personId: ben.id } },
      include: { document: true },
    });
    const { lines } = ReceiptContent.parse(document.content);
    expect(lines.map(({ description, quantity }) => [description, quantity])).toEqual([
      ['Lidded jars, from 7 April: materials', 2],
      ['Lidded jars, from 7 April: teaching', 2],
    ]);
    const whole = await ask(ben.id, 12_001, { restLabel: 'materials' });
    await pay(ben.id, whole, 12_001);
    expect(await db.charge.findUniqueOrThrow({ where: { id: whole } })).toMatchObject({ restLabel: null });
  });

  test('takes them back on its credit note, and keeps the VAT of what is kept', async () => {
    const tomas = await personFixture(owner);
    const chargeId = await mixed(tomas.id);
    await pay(tomas.id, chargeId, 6000);
    const how = { refundMinor: 4500, method: 'card' as const, reason: 'Moved away' };
    const lines = await posted(() => inTransaction(db, (tx) => cancelCharge(tx, clock.now(), chargeId, how)));
    const kept = reckoned(1500);
    expect(await onPaper(chargeId)).toEqual(kept);
    const vatKept = payParts(PARTS, 0, 1500).reduce((sum, { vatMinor }) => sum + vatMinor, 0);
    expect(lines['course-income']).toBe(-(1500 - vatKept));
    const note = await db.creditNote.findFirstOrThrow({ where: { credit: { chargeId } }, include: { document: true } });
    expect(note.document.content).toMatchObject({ kind: 'vat-full', lines: { length: 3 } });
    expect((await owner.get(`/api/documents/${note.documentId}/pdf`)).statusCode).toBe(200);
  });

  test('has on all its papers the VAT of each part as a whole, after any payments and refunds', async () => {
    const wren = await personFixture(owner);
    const steps = fc.array(fc.record({ back: fc.boolean(), part: fc.integer({ min: 1, max: 99 }) }), {
      minLength: 1,
      maxLength: 4,
    });
    const run = async (moves: { back: boolean; part: number }[], suppliedAfter: number) => {
      const chargeId = await mixed(wren.id);
      let [paid, asked] = [0, 12_001];
      for (const [i, { back, part }] of moves.entries()) {
        const sum = back ? Math.ceil((paid * part) / 100) : Math.ceil(((asked - paid) * part) / 100);
        if (sum > 0 && !back) expect((await pay(wren.id, chargeId, sum)).statusCode).toBe(201);
        // what is credited comes off what is unpaid first
        const amountMinor = asked - paid + sum;
        const how = { amountMinor, method: 'card' as const, reason: 'Less than was agreed' };
        if (sum > 0 && back) await inTransaction(db, (tx) => creditPart(tx, clock.now(), chargeId, how));
        if (sum > 0 && back) [paid, asked] = [paid - sum, paid - sum];
        else paid += sum;
        if (i === suppliedAfter) await inTransaction(db, (tx) => recordSupply(tx, clock.now(), chargeId));
      }
      if (asked > paid) await pay(wren.id, chargeId, asked - paid);
      const papers = await onPaper(chargeId);
      for (const [label, sums] of Object.entries(reckoned(asked))) expect(papers[label] ?? [0, 0]).toEqual(sums);
      if (asked === 12_001) expect(papers).toEqual(wholePrice());
      expect(await findBrokenRules(db)).toEqual([]);
    };
    await fc.assert(fc.asyncProperty(steps, fc.integer({ min: 0, max: 4 }), run), { numRuns: 15 });
  });

  const wholePrice = () =>
    Object.fromEntries(PARTS.map(({ grossMinor, tax }, i) => [LABELS[i], [grossMinor, vatInside(grossMinor, tax)]]));

  test('is one tax where parts bear the same, and bears none where the studio is not registered', async () => {
    const petra = await personFixture(owner);
    const clay = { label: 'clay', taxRateId: standard.id, grossMinor: 1000 };
    const glaze = { label: 'a talk', taxRateId: exempt.id, grossMinor: 500 };
    const one = await mixed(petra.id, [clay, TEACHING, glaze]);
    expect(await db.chargePart.findMany({ where: { chargeId: one } })).toMatchObject([
      { label: 'teaching, a talk', grossMinor: 8501, taxKind: 'exempt' },
    ]);
    await owner.put('/api/studio', { ...STUDIO, firingTaxRateId: standard.id, vatNumber: null });
    const none = await mixed(petra.id);
    expect(await db.chargePart.count({ where: { chargeId: none } })).toBe(0);
    const lines = await posted(() => pay(petra.id, none, 12_001));
    expect(lines).toEqual({ card: 12_001, receivable: -12_001, 'billed-in-advance': 12_001, 'deposits-held': -12_001 });
    expect(await onPaper(none)).toEqual({ 'outside the scope of VAT': [12_001, 0] });
    await owner.put('/api/studio', { ...STUDIO, firingTaxRateId: standard.id });
  });

  test('is not paid by a voucher of one tax, and by one that is taxed when it is used', async () => {
    const odile = await personFixture(owner);
    const chargeId = await mixed(odile.id);
    const single = await sell(odile.id, 6000, { taxRateId: standard.id });
    const refused = await pay(odile.id, chargeId, 1, single.code);
    expect(refused.json()).toMatchObject({ type: '/problems/voucher-other-tax' });
    expect(refused.json().detail).toContain('taxed as Standard and Exempt and Reduced');
    const open = await sell(odile.id, 6000);
    const lines = await posted(() => pay(odile.id, chargeId, 6000, open.code));
    expect(lines).toMatchObject({ 'vouchers-outstanding': 6000, vat: -(167 + 48) });
    const how = { refundMinor: 6000, reason: 'Ill' };
    const back = await posted(() => inTransaction(db, (tx) => cancelCharge(tx, clock.now(), chargeId, how)));
    expect(back).toMatchObject({ 'vouchers-outstanding': -6000, vat: 167 + 48 });
  });

  test('goes back in two ways, each with its own VAT, and nothing is left of it', async () => {
    const eve = await personFixture(owner);
    for (const [byCard, byVoucher] of [
      [1003, 997],
      [4, 5001],
      [7000, 5001],
    ] as const) {
      const chargeId = await mixed(eve.id);
      const { code } = await sell(eve.id, 6000);
      await pay(eve.id, chargeId, byCard);
      await pay(eve.id, chargeId, byVoucher, code);
      const how = { refundMinor: byCard + byVoucher, method: 'card' as const, reason: 'Ill' };
      await inTransaction(db, (tx) => cancelCharge(tx, clock.now(), chargeId, how));
      expect(Object.values(await onPaper(chargeId)).flat()).toEqual([0, 0, 0, 0, 0, 0]);
    }
  });

  test('is refused where the parts are more than the price', async () => {
    const bo = await personFixture(owner);
    await expect(mixed(bo.id, [TEACHING], 8000)).rejects.toMatchObject({ type: 'invalid-request' });
    expect(await db.charge.count({ where: { personId: bo.id } })).toBe(0);
  });
});

describe('the database', () => {
  const part = (chargeId: string, grossMinor: number, ordinal = 9) =>
    db.chargePart.create({
      data: { chargeId, ordinal, label: 'x', taxName: 'x', taxKind: 'exempt', taxPercent: null, grossMinor },
    });

  test('refuses parts above the price, parts that come late, and any change of them', async () => {
    const ida = await personFixture(owner);
    const [fresh, paid] = [await mixed(ida.id), await mixed(ida.id)];
    await pay(ida.id, paid, 1);
    expect(sqlState(await part(fresh, 2002).catch((error) => error))).toBe('WB001');
    expect(sqlState(await part(paid, 1).catch((error) => error))).toBe('WB004');
    await expect(db.chargePart.updateMany({ data: { grossMinor: 1 } })).rejects.toThrow();
    await expect(db.chargePart.deleteMany()).rejects.toThrow();
  });

  test.each<[string, string, RegExp]>([
    [
      'parts above the price',
      `UPDATE charge_part SET gross_minor = gross_minor + 2002`,
      /charge \S+: its parts are \d+ too much/,
    ],
    [
      'a part whose tax was changed',
      `UPDATE charge_part SET tax_percent = 7 WHERE tax_percent = 5`,
      /the books are off by/,
    ],
    [
      'a part that was moved',
      `UPDATE charge_part SET gross_minor = gross_minor - 500 WHERE tax_kind = 'exempt'`,
      /the books are off by/,
    ],
    ['a supply that was forgotten', `DELETE FROM supply`, /the books are off by/],
  ])('%s is found', async (_, sql, fault) => {
    const amal = await personFixture(owner);
    const chargeId = await mixed(amal.id);
    await pay(amal.id, chargeId, 5000);
    await inTransaction(db, (tx) => recordSupply(tx, clock.now(), chargeId));
    expect(await faultsAfter(studio.url, sql)).toMatch(fault);
    expect(await faultsAfter(studio.url, 'SELECT 1')).toBe('');
  });
});
