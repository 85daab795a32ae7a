import { describe, expect, test } from 'vitest';
import { renderBatchSheet } from '../../src/documents/batch-sheet.js';
import { renderCollectionNotice } from '../../src/documents/collection-notice.js';
import { renderCreditNote } from '../../src/documents/credit-note.js';
import type { CreditNoteContent } from '../../src/documents/credit-note-content.js';
import { renderOrder } from '../../src/documents/order.js';
import { readLogo } from '../../src/documents/pictures/logo.js';
import { renderReceipt } from '../../src/documents/receipt.js';
import type { ReceiptContent } from '../../src/documents/receipt-content.js';
import { renderVoucher } from '../../src/documents/voucher.js';
import { logoPng } from '../support/pictures.js';
import { layoutFaults, readBack, readLayout } from './read-back.js';
import { creditNote, decorative, fullReceipt, manyPieces, notice, piece, plainReceipt } from './samples.js';

const MARGIN = 36; // half an inch, the narrower of the two sheets
const FOOT = 51; // points from the bottom, on A5: only the page's number is below
const LEAST_LINES = 3;

/** On how many lines something is printed on each page, but for what each page has at its head and foot. */
async function linesOf(pdf: Buffer): Promise<number[]> {
  const pages = await readLayout(pdf);
  expect(layoutFaults(pages)).toEqual([]);
  return pages.map(({ items }, i) => {
    const heights = items.map(({ y }) => Math.round(y)).filter((y) => y > FOOT);
    return new Set(heights).size - (i === 0 ? 0 : 1);
  });
}

const lines = (count: number) => Array.from({ length: count }, (_, i) => ({ description: `Place ${i + 1}` }));
const sentences = (count: number) => Array.from({ length: count }, (_, i) => `Sentence ${i + 1} of some words.`);
const [line] = fullReceipt.lines;
const [credited] = creditNote.lines;
const range = (from: number, to: number) => Array.from({ length: to - from + 1 }, (_, i) => from + i);

const PAPERS: Record<string, (count: number) => Promise<Buffer>> = {
  'a full VAT invoice': (count) =>
    renderReceipt({
      ...{ ...fullReceipt, supplies: plainReceipt.supplies },
      lines: lines(count).map((one) => ({ ...line, ...one })),
      totalMinor: count * 12_000,
    } as ReceiptContent),
  'a credit note': (count) =>
    renderCreditNote({
      ...creditNote,
      lines: lines(count).map((one) => ({ ...credited, ...one })),
      totalMinor: count * 12_000,
    } as CreditNoteContent),
  'an order': (count) =>
    renderOrder({
      ...{ studio: notice.studio, currency: 'GBP', locale: 'en-GB', language: 'en', number: '0007' },
      ...{ placedOn: '2026-03-12', expectedOn: '2026-03-20', carriageMinor: 0, note: 'Ring before you come.' },
      supplier: { name: 'Hollow Hill Clays', addressLines: [] },
      lines: lines(count).map(({ description }) => ({
        ...{ name: description, pack: '12.5 kg', packs: 1, packPriceMinor: 100, amountMinor: 100 },
      })),
      totalMinor: count * 100,
    }),
  'a voucher': (count) =>
    renderVoucher({
      ...{ studio: notice.studio, currency: 'GBP', locale: 'en-GB', language: 'en', code: '234555555R' },
      ...{ issuedOn: '2026-03-12', amountMinor: 6000, validUntil: null, taxed: 'when-used' },
      ...{ forWhom: 'Mira', goodFor: sentences(Math.min(count, 11)).join(' ').slice(0, 300) },
      studio: { ...notice.studio, addressLines: sentences(8), legal: sentences(count).join(' ').slice(0, 1000) },
    }),
  'a batch sheet': (count) =>
    renderBatchSheet({
      ...{ studio: notice.studio, currency: 'GBP', locale: 'en-GB', language: 'en', name: 'Tarn', version: 1 },
      ...{
        printedOn: '2026-03-12',
        makeGrams: count * 100,
        weights: 'dry',
        inPercent: false,
        makes: '2 l',
        hazards: [],
      },
      parts: lines(Math.min(count, 40)).map(({ description }) => ({
        ...{ name: description, share: '1', grams: 100, weighGrams: 100, ml: null },
      })),
      ...{ addWaterMl: 120, tooWetMl: 0, litreGrams: 1450, solidsDensity: '2.6', isDensityAssumed: true },
      note: 'Sieve twice.',
    }),
  'a collection notice': (count) =>
    renderCollectionNotice({ ...notice, pieces: manyPieces(count), firingFees: notice.firingFees.slice(0, count % 3) }),
};

// a page that holds one sentence looks like a mistake, and stays in the printer
describe('no page holds next to nothing', () => {
  test.each([
    ['a full VAT invoice', range(1, 48)],
    ['a credit note', range(8, 48)],
    ['an order', range(20, 60)],
    ['a voucher', range(1, 30)],
    ['a collection notice', range(1, 24)],
    ['a batch sheet', range(10, 40)],
  ])('of %s, however long it is', async (name, counts) => {
    const render = PAPERS[name] as (count: number) => Promise<Buffer>;
    const thin: string[] = [];
    let longest = 0;
    for (const count of counts) {
      const filled = await linesOf(await render(count));
      longest = Math.max(longest, filled.length);
      if (Math.min(...filled) < LEAST_LINES) thin.push(`${count}: ${filled.join(', ')}`);
    }
    expect(thin).toEqual([]);
    if (name !== 'a voucher') expect(longest).toBeGreaterThan(1);
  });
});

const LOGO = readLogo(logoPng(200, 200));
const LOOKS = (['A4', 'LETTER'] as const).flatMap((paperSize) => [
  { said: `for ${paperSize}`, look: { paperSize }, logo: null },
  { said: `for ${paperSize} with a logo`, look: { paperSize, logo: LOGO.sha256 }, logo: LOGO.image },
]);

describe('a collection notice of three pieces', () => {
  const three = [piece('4K7'), piece('4M2', { form: 'bowl' }), piece('4P3', { form: 'bottle', heightMm: 190 })];
  test.each<[string, object]>([
    ['with a statement, a test and what is owed', {}],
    ['that are all decorative', { pieces: three.map((one) => ({ ...one, use: decorative })) }],
    ['for which nothing is owed', { firingFees: [], otherOwed: [], howToPay: null }],
  ])('%s has its cautions on the one page, on either sheet, with a logo and without', async (_, change) => {
    for (const { said, look, logo } of LOOKS) {
      const { pages, text } = await readBack(await renderCollectionNotice({ ...notice, ...change, ...look }, logo));
      expect(pages, said).toHaveLength(1);
      for (const words of ['Before you use your work', 'sharp as glass', 'by Thursday 2 April 2026'])
        expect(text).toContain(words);
      expect(layoutFaults(pages, MARGIN)).toEqual([]);
    }
  });
  test('says what is owed in sentences there, the firing fees by themselves', async () => {
    const { text } = await readBack(await renderCollectionNotice(notice));
    expect(text).toContain(
      'Firing fees £12.38: Glaze firing 15, your share £8.88; Lustre firing 3, one bottle £3.50. ' +
        'Other charges £120: Lidded jars, second half £120. Pay by card or in cash when you collect.',
    );
  });
});
