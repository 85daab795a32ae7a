import { describe, expect, test } from 'vitest';
import { renderBatchSheet } from '../../src/documents/batch-sheet.js';
import { BatchSheetContent } from '../../src/documents/batch-sheet-content.js';
import { renderBucketLabels } from '../../src/documents/bucket-labels.js';
import type { BucketLabelsContent } from '../../src/documents/bucket-labels-content.js';
import { layoutFaults, readBack, rolesIn } from './read-back.js';
import { LONG_NAME, registered } from './samples.js';

const head = { studio: registered, currency: 'GBP', locale: 'en-GB', language: 'en' as const };
const hazards = [
  { name: 'Tarn blue', warning: { text: 'Dust may irritate eyes and lungs.', statedOn: '2025-05-03' } },
  { name: 'Moss satin', warning: null },
];
const sheet: BatchSheetContent = {
  ...head,
  ...{ name: 'Tarn and moss', version: 2, printedOn: '2026-03-12', makeGrams: 2000, weights: 'wet', inPercent: true },
  parts: [
    { name: 'Tarn blue', share: '50', grams: 1000, weighGrams: 1000, ml: 670 },
    { name: 'Moss satin', share: '50', grams: 1000, weighGrams: 1000, ml: null },
  ],
  ...{ addWaterMl: 120, tooWetMl: 0, litreGrams: 1450, solidsDensity: '2.6', isDensityAssumed: true },
  ...{ makes: '1,460 ml', note: 'Sieve twice.', hazards },
};
const labels: BucketLabelsContent = {
  ...head,
  ...{ copies: 2, name: 'Tarn and moss', number: 12, version: 2, mixedOn: '2026-03-12', litreGrams: 1450 },
  parts: [
    { name: 'Tarn blue', grams: 1000 },
    { name: 'Moss satin', grams: 1000 },
  ],
  ...{ firesC: '1200 to 1250 °C', hazards },
};
const plain = (text: string) => text.replaceAll('\u00a0', ' ').replace(/\s+/g, ' ');

describe('a batch sheet', () => {
  test('says what to weigh, the water, and what to mind before a bag is opened', async () => {
    const { text, info, pages } = await readBack(await renderBatchSheet(sheet));
    for (const words of [
      'To mix: Tarn and moss 2,000 g of the parts as they stand, from 2 parts; it makes about 1,460 ml.',
      'Tarn blue 50 % 1,000 g 670 ml',
      'On the scale 2,000 g',
      'Water to add 120 ml',
      'A litre of it shall weigh 1,450 g',
      '2.6, assumed',
      'Sieve twice.',
      'Wear a fitted mask',
      'only a laboratory’s test',
      'Tarn blue: Dust may irritate eyes and lungs. (sheet of 3 May 2025)',
      'No warning is noted for Moss satin.',
    ])
      expect(plain(text)).toContain(words);
    expect(info).toMatchObject({ Title: 'To mix: Tarn and moss', Language: 'en' });
    expect(rolesIn(pages, 'TR')).toBe(4);
    expect(layoutFaults(pages)).toEqual([]);
  });

  test('says how much clear water to take off, where the parts bring too much', async () => {
    const { text } = await readBack(await renderBatchSheet({ ...sheet, addWaterMl: 0, tooWetMl: 90 }));
    expect(plain(text)).toContain('Take off once it has settled 90 ml of clear water');
  });

  test('takes forty parts with long names, and has the same bytes twice', async () => {
    const [part] = sheet.parts;
    const parts = Array.from({ length: 40 }, () => ({ ...part, name: LONG_NAME }) as NonNullable<typeof part>);
    const long = { ...sheet, makeGrams: 40_000, parts };
    const bytes = await renderBatchSheet(long);
    expect(bytes).toEqual(await renderBatchSheet(long));
    const { pages } = await readBack(bytes);
    expect([pages.length > 1, layoutFaults(pages)]).toEqual([true, []]);
  });

  test('is refused where the parts do not make the batch', () => {
    expect(BatchSheetContent.safeParse(sheet).success).toBe(true);
    expect(BatchSheetContent.safeParse({ ...sheet, makeGrams: 2001 }).success).toBe(false);
  });
});

describe('labels for buckets', () => {
  test('say name, batch, day, parts, density and warnings, as often as asked', async () => {
    const { text, pages } = await readBack(await renderBucketLabels(labels));
    for (const words of [
      'Tarn and moss Batch 12, mixed on 12 March 2026 by recipe version 2',
      'Tarn blue 1,000 g, Moss satin 1,000 g',
      'A litre weighs 1,450 g; fires 1200 to 1250 °C.',
      'Tarn blue: Dust may irritate eyes and lungs.',
      'only a laboratory’s test',
      'Alder Lane Pottery',
    ])
      expect(plain(text).split(words).length - 1, words).toBe(2);
    expect(layoutFaults(pages)).toEqual([]);
  });

  test('are never parted between two pages', async () => {
    const { pages } = await readBack(await renderBucketLabels({ ...labels, copies: 24, name: LONG_NAME }));
    expect(layoutFaults(pages)).toEqual([]);
    for (const page of pages) {
      const count = (words: string) => plain(page.text).split(words).length - 1;
      expect(count('Batch 12, mixed on')).toBe(count('only a laboratory’s test'));
    }
  });
});
