import type { PaperKind } from '../../src/documents/contents.js';
import { render } from '../../src/documents/render.js';
import type { PaperSize } from '../../src/documents/sheet.js';
import { creditNote, manyPieces, notice, plainReceipt, registered } from './samples.js';

/** What a paper of each kind is drawn from, beyond its own lines: the sheet, the logo, perhaps another studio. */
export type Look = { paperSize?: PaperSize; logo?: string; studio?: typeof registered };
type Paper = { sheet: 'half' | 'whole'; kind: PaperKind; content: object };

const head = { studio: registered, currency: 'GBP', locale: 'en-GB', language: 'en' as const };
const hazards = [{ name: 'Tarn blue', kind: 'oxide', warning: { text: 'Dust may irritate.', statedOn: '2025-05-03' } }];
const many = <T>(count: number, one: T): T[] => Array.from({ length: count }, () => one);

/** One paper of each kind, some of several pages, and whether it is half a sheet or a whole one. */
export const PAPERS: Record<string, Paper> = {
  receipt: { sheet: 'half', kind: 'receipt', content: plainReceipt },
  'credit note': { sheet: 'half', kind: 'creditNote', content: creditNote },
  'collection notice': {
    ...{ sheet: 'half', kind: 'collectionNotice' },
    content: { ...notice, pieces: manyPieces(30) },
  },
  voucher: {
    ...{ sheet: 'half', kind: 'voucher' },
    content: {
      ...{ ...head, code: '234555555R', issuedOn: '2026-03-12', amountMinor: 6000, validUntil: null },
      ...{ forWhom: 'Mira', goodFor: null, taxed: 'when-used' },
    },
  },
  order: {
    ...{ sheet: 'whole', kind: 'order' },
    content: {
      ...{ ...head, number: '0007', placedOn: '2026-03-12', expectedOn: '2026-03-20' },
      supplier: { name: 'Hollow Hill Clays', addressLines: [] },
      lines: many(70, { name: 'Moss satin', pack: '500 ml', packs: 1, packPriceMinor: 100, amountMinor: 100 }),
      ...{ carriageMinor: 0, totalMinor: 7000, note: null },
    },
  },
  'batch sheet': {
    ...{ sheet: 'whole', kind: 'batchSheet' },
    content: {
      ...{ ...head, name: 'Tarn', version: 2, printedOn: '2026-03-12', makeGrams: 4000, weights: 'dry' },
      parts: many(40, { name: 'Tarn blue', share: '1', grams: 100, weighGrams: 100, ml: null }),
      ...{ addWaterMl: 120, tooWetMl: 0, litreGrams: 1450, solidsDensity: '2.6', isDensityAssumed: true },
      ...{ inPercent: false, makes: '2 l', note: 'Sieve twice.', hazards },
    },
  },
  labels: {
    ...{ sheet: 'whole', kind: 'bucketLabels' },
    content: {
      ...{ ...head, copies: 9, name: 'Tarn and moss, for the inside of the large bowls' },
      ...{ number: 12, version: 2, mixedOn: '2026-03-12' },
      parts: [{ name: 'Tarn blue', grams: 1000 }],
      ...{ litreGrams: 1450, firesC: null, hazards },
    },
  },
};

/** A paper by its name in the list above, and how it is drawn with another look. */
export function paperCalled(name: string): Paper & { draw(look: Look, logo?: Uint8Array): Promise<Buffer> } {
  const paper = PAPERS[name];
  if (!paper) throw new Error(`No paper is called ${name}.`);
  return { ...paper, draw: (look, logo) => render(paper.kind, { ...paper.content, ...look }, logo ?? null) };
}
