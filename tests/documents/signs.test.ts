import { describe, expect, test } from 'vitest';
import type { z } from 'zod';
import { renderBatchSheet } from '../../src/documents/batch-sheet.js';
import { BatchSheetContent } from '../../src/documents/batch-sheet-content.js';
import { renderBucketLabels } from '../../src/documents/bucket-labels.js';
import { BucketLabelsContent } from '../../src/documents/bucket-labels-content.js';
import { CollectionContent } from '../../src/documents/collection-content.js';
import { renderCollectionNotice } from '../../src/documents/collection-notice.js';
import { renderCreditNote } from '../../src/documents/credit-note.js';
import { CreditNoteContent } from '../../src/documents/credit-note-content.js';
import { renderOrder } from '../../src/documents/order.js';
import { OrderContent } from '../../src/documents/order-content.js';
import { renderReceipt } from '../../src/documents/receipt.js';
import { ReceiptContent } from '../../src/documents/receipt-content.js';
import { renderVoucher } from '../../src/documents/voucher.js';
import { VoucherContent } from '../../src/documents/voucher-content.js';
import { readBack } from './read-back.js';
import { creditNote, fullReceipt, notice, registered, simplifiedReceipt } from './samples.js';

// Signs that mean something in XML, in a PDF's own language, in a header or in a path.
const SIGNS = ` & <b> "q" 'a' (c) \\d % #e; ]]> /f`;

const head = { studio: registered, currency: 'GBP', locale: 'en-GB', language: 'en' as const };
const warned = {
  name: 'Tarn blue',
  kind: 'glaze',
  warning: { text: 'Dust may irritate eyes and lungs.', statedOn: '2025-05-03' },
};
const voucher: VoucherContent = {
  ...{ ...head, code: '234555555R', issuedOn: '2026-03-12', amountMinor: 6000, validUntil: null, taxed: 'when-sold' },
  ...{ forWhom: 'Mira Sandoval', goodFor: 'one place on a taster evening' },
};
const order: OrderContent = {
  ...{ ...head, number: '0007', placedOn: '2026-03-12', expectedOn: '2026-03-20', note: 'Ring before you come.' },
  supplier: { name: 'Hollow Hill Clays', addressLines: ['4 Pit Lane', 'Fernley'] },
  lines: [{ name: 'Moss satin', pack: '500 ml', packs: 2, packPriceMinor: 1200, amountMinor: 2400 }],
  ...{ carriageMinor: 0, totalMinor: 2400 },
};
const sheet: BatchSheetContent = {
  ...{ ...head, name: 'Salt and pepper', version: 2, printedOn: '2026-03-12', makeGrams: 2000, weights: 'wet' },
  ...{ inPercent: true, makes: '1,460 ml', note: 'Sieve twice.', hazards: [warned] },
  parts: [{ name: 'Tarn blue', share: '100', grams: 2000, weighGrams: 2000, ml: 1340 }],
  ...{ addWaterMl: 120, tooWetMl: 0, litreGrams: 1450, solidsDensity: '2.6', isDensityAssumed: true },
};
const labels: BucketLabelsContent = {
  ...{ ...head, copies: 1, name: 'Salt and pepper', number: 12, version: 2, mixedOn: '2026-03-12', litreGrams: 1450 },
  ...{ parts: [{ name: 'Tarn blue', grams: 2000 }], firesC: null, hazards: [warned] },
};

const PAPERS: [string, z.ZodType, (content: never) => Promise<Buffer>, unknown][] = [
  ['receipt', ReceiptContent, renderReceipt as never, fullReceipt],
  ['simplified receipt', ReceiptContent, renderReceipt as never, simplifiedReceipt],
  ['credit note', CreditNoteContent, renderCreditNote as never, creditNote],
  ['collection notice', CollectionContent, renderCollectionNotice as never, notice],
  ['voucher', VoucherContent, renderVoucher as never, voucher],
  ['order', OrderContent, renderOrder as never, order],
  ['batch sheet', BatchSheetContent, renderBatchSheet as never, sheet],
  ['bucket labels', BucketLabelsContent, renderBucketLabels as never, labels],
];

type Path = (string | number)[];
const at = (content: unknown, path: Path) => path.reduce((of, key) => (of as Record<string, unknown>)[key], content);

/** What the program writes itself: numbers, rates and kinds. */
const OURS = new Set(['number', 'vatPercent', 'kind']);

/** Every place of a content that holds a text which may come from people. */
function textsIn(content: unknown, path: Path = []): Path[] {
  if (typeof content === 'string') return [path];
  if (typeof content !== 'object' || content === null) return [];
  return Object.entries(content).flatMap(([key, each]) => (OURS.has(key) ? [] : textsIn(each, [...path, key])));
}

/** The content with the signs in every text whose contract lets them in. */
function withSigns(contract: z.ZodType, content: unknown): { content: unknown; changed: string[] } {
  const changed: string[] = [];
  let so = content;
  for (const path of textsIn(content)) {
    const tried = structuredClone(so);
    const holder = at(tried, path.slice(0, -1)) as Record<string, unknown>;
    holder[path.at(-1) ?? ''] = `${at(so, path)}${SIGNS}`;
    if (!contract.safeParse(tried).success) continue;
    so = tried;
    changed.push(path.join('/'));
  }
  return { content: so, changed };
}

describe('whatever signs a name holds, they are printed as they are', () => {
  test.each(PAPERS)('on a %s', async (_, contract, render, sample) => {
    const { content, changed } = withSigns(contract, sample);
    expect(changed).toContain('studio/name');
    expect(changed.length).toBeGreaterThan(4);
    const { text, info } = await readBack(await render(content as never));
    expect(text.replace(/\s+/g, '')).toContain(SIGNS.replace(/\s+/g, ''));
    expect(info).toMatchObject({ Title: expect.stringMatching(/^[^&<>]+$/) });
  });
});
