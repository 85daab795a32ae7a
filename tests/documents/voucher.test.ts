import { describe, expect, test } from 'vitest';
import { renderCreditNote } from '../../src/documents/credit-note.js';
import { CreditNoteContent } from '../../src/documents/credit-note-content.js';
import { renderReceipt } from '../../src/documents/receipt.js';
import { ReceiptContent } from '../../src/documents/receipt-content.js';
import { renderVoucher } from '../../src/documents/voucher.js';
import { VoucherContent } from '../../src/documents/voucher-content.js';
import { layoutFaults, readBack, rolesIn } from './read-back.js';
import { creditNote, LONG_NAME, plainReceipt, registered, simplifiedReceipt } from './samples.js';

const code = '234555555R';
const voucher: VoucherContent = {
  studio: registered,
  currency: 'GBP',
  locale: 'en-GB',
  language: 'en',
  code,
  issuedOn: '2026-03-12',
  amountMinor: 6000,
  forWhom: 'Mira Sandoval',
  goodFor: 'one place on a taster evening',
  validUntil: '2027-03-11',
  taxed: 'when-sold',
};
const { vatNumber: _, ...unregistered } = registered;
const read = async (content: VoucherContent) => readBack(await renderVoucher(content));

describe('a voucher', () => {
  test('says its sum, its code, whom and what it is for, until when, and how to use it', async () => {
    const { text, info, pages } = await read(voucher);
    for (const words of [
      'Gift voucher for Mira Sandoval £60.00 For one place on a taster evening.',
      'Code 234 5555 55R',
      'Expires end of 11 March 2027',
      'Use it by Thursday 11 March 2027.',
      'Book with Alder Lane Pottery (bench@alderlane.example or 01632 960 118) and give the code when you pay.',
      'Any balance stays on the voucher.',
      'Anyone with the code can use it',
      'VAT was accounted for when this voucher was sold',
      'Page 1 of 1',
    ])
      expect(text).toContain(words);
    expect(info).toMatchObject({ Title: 'Voucher 234 5555 55R', Language: 'en' });
    expect(rolesIn(pages, 'LI')).toBe(5);
    expect(layoutFaults(pages)).toEqual([]);
    expect([pages.length, Math.round(pages[0]?.width ?? 0)]).toEqual([1, 420]);
  });

  test('for all that the studio offers, without a name and an end, taxed when used', async () => {
    const { text } = await read({ ...voucher, forWhom: null, goodFor: null, validUntil: null, taxed: 'when-used' });
    expect(text).toContain('Gift voucher £60.00 For any course or firing at Alder Lane Pottery.');
    expect(text).toContain('Expires never');
    expect(text).toContain('VAT is due when the voucher is used and will be shown on that receipt.');
  });

  test('of a studio that is not registered speaks of no VAT', async () => {
    expect((await read({ ...voucher, studio: unregistered })).text).not.toMatch(/VAT|tax|invoice/i);
  });

  test('has the same bytes twice, and takes long names', async () => {
    const first = await renderVoucher(voucher);
    expect((await renderVoucher(voucher)).equals(first)).toBe(true);
    const long = LONG_NAME.slice(0, 300);
    expect(layoutFaults((await read({ ...voucher, forWhom: long, goodFor: long })).pages)).toEqual([]);
  });

  test.each<[string, object, string]>([
    ['a code that is none', { code: '2345555557' }, 'This is not the code of a voucher.'],
    ['an end before its sale', { validUntil: '2026-03-11' }, 'A voucher is valid on the day of its sale.'],
  ])('with %s is refused', (_, change, message) => {
    const { error } = VoucherContent.safeParse({ ...voucher, ...change });
    expect(error?.issues.map((issue) => issue.message)).toContain(message);
  });
});

describe('a receipt of what a voucher paid', () => {
  const paid = { code, leftMinor: 1000, taxed: 'when-sold' } as const;
  test('says what is left, and that its VAT was accounted for when it was sold', async () => {
    const [line] = simplifiedReceipt.lines;
    const lines = [
      {
        ...line,
        vatPercent: null,
        vatMinor: 0,
        netMinor: 12_000,
        priceNetMinor: 12_000,
        taxPoint: null,
        taxLabel: 'VAT paid on voucher',
      },
    ];
    const content = ReceiptContent.parse({
      ...plainReceipt,
      studio: registered,
      method: 'voucher',
      voucher: paid,
      lines,
      supplies: [],
      totalMinor: 12_000,
    });
    const { text, pages } = await readBack(await renderReceipt(content));
    expect(text).toContain('Received by voucher 234 5555 55R from Ines Duval on 11 March 2026. Thank you.');
    expect(text).toContain('£10 remains on it. VAT was accounted for when the voucher was sold.');
    expect(text).not.toMatch(/invoice/i);
    expect(layoutFaults(pages)).toEqual([]);
  });

  test('taxed now is a VAT invoice like any other', async () => {
    const voucher = { ...paid, taxed: 'when-used' } as const;
    const { text } = await readBack(await renderReceipt({ ...simplifiedReceipt, method: 'voucher', voucher }));
    expect(text).toContain('Receipt and simplified VAT invoice');
    expect(text).not.toContain('accounted for when the voucher was sold');
  });

  test.each([{ method: 'voucher' }, { voucher: paid }])('is refused where way and voucher don’t fit: %j', (change) => {
    expect(ReceiptContent.safeParse({ ...plainReceipt, ...change }).success).toBe(false);
  });
});

describe('a credit note of what goes back in several ways', () => {
  const part = (amountMinor: number, voucher: object | null) => ({
    amountMinor,
    method: voucher === null ? 'card' : 'voucher',
    voucher,
  });
  const settled = (...parts: object[]) =>
    CreditNoteContent.safeParse({ ...creditNote, settlement: { how: 'in-parts', on: '2026-03-20', parts } });
  test('says how much goes which way', async () => {
    const half = creditNote.totalMinor / 2;
    const { data } = settled(part(half, null), part(half - 1, { code, isNew: false }), part(1, { code, isNew: true }));
    const { text, pages } = await readBack(await renderCreditNote(data as CreditNoteContent));
    expect(text).toContain('by card; £59.99 to voucher 234 5555 55R; £0.01 to the new voucher 234 5555 55R, because');
    expect(layoutFaults(pages)).toEqual([]);
  });
  test('is refused where the ways don’t add up', () => {
    expect(settled(part(creditNote.totalMinor - 1, null)).error?.issues[0]?.message).toBe(
      'The parts must add up to the total.',
    );
  });
});
