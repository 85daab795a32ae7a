import { describe, expect, test } from 'vitest';
import { renderBatchSheet } from '../../src/documents/batch-sheet.js';
import { BatchSheetContent } from '../../src/documents/batch-sheet-content.js';
import { renderBucketLabels } from '../../src/documents/bucket-labels.js';
import type { BucketLabelsContent } from '../../src/documents/bucket-labels-content.js';
import { layoutFaults, readBack, rolesIn } from './read-back.js';
import { LONG_NAME, registered } from './samples.js';

const head = { studio: registered, currency: 'GBP', locale: 'en-GB', language: 'en' as const };
const hazards = [
  { name: 'Tarn blue', kind: 'oxide', warning: { text: 'Dust may irritate eyes and lungs.', statedOn: '2025-05-03' } },
  { name: 'Moss satin', kind: 'glaze', warning: null },
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
  ...{ firesC: '1,200–1,250 °C', hazards },
};
const plain = (text: string) => text.replaceAll('\u00a0', ' ').replace(/\s+/g, ' ');

describe('a batch sheet', () => {
  test('says what to weigh, the water, and what to mind before a bag is opened', async () => {
    const { text, info, pages } = await readBack(await renderBatchSheet(sheet));
    for (const words of [
      'Batch sheet: Tarn and moss 2,000 g Materials as used (wet), 2 materials; makes about 1,460 ml.',
      'Tarn blue 50% 1,000 g 670 ml',
      'Total 2,000 g',
      'Water, before the powder 120 ml',
      'Litre weight (target) 1,450 g',
      '2.6, assumed',
      'Sieve twice.',
      'Wear a fit-tested FFP3 mask',
      'Only a laboratory test of fired ware',
      'Tarn blue – May be toxic: wear gloves, breathe no dust or spray, no food or drink near it. Dust may irritate eyes and lungs (data sheet dated 3 May 2025).',
      'No warning is entered for Moss satin.',
    ])
      expect(plain(text)).toContain(words);
    expect(info).toMatchObject({ Title: 'Batch sheet, recipe version 2', Language: 'en' });
    expect(rolesIn(pages, 'TR')).toBe(4);
    expect(layoutFaults(pages)).toEqual([]);
  });

  // HSE Ceramics sheets CR0 to CR4 (wet cleaning, respiratory protection) and EH40/2005 (respirable crystalline silica, 0.1 mg/m3
  // over eight hours): dust is kept down. Powder into water is common practice.
  test('has the powder go into the water, and says what to mind before it says what to weigh', async () => {
    const { text } = await readBack(await renderBatchSheet(sheet));
    const at = (words: string) => {
      expect(plain(text)).toContain(words);
      return plain(text).indexOf(words);
    };
    expect(plain(text)).not.toMatch(/water on (the )?powder/);
    const cautions = ['add the powder gently to the water, never water to the powder', 'lift with bent knees', 'FFP3'];
    for (const caution of [...cautions, 'Tarn blue – ', 'suppliers’ safety data sheets take precedence'])
      expect(at(caution), caution).toBeLessThan(at('Weigh out'));
  });

  test('has no column of ml where nothing on the shelf is kept by the ml', async () => {
    const parts = sheet.parts.map((part) => ({ ...part, ml: null }));
    expect(plain((await readBack(await renderBatchSheet({ ...sheet, parts }))).text)).not.toContain('That is');
    expect(plain((await readBack(await renderBatchSheet(sheet))).text)).toContain('That is');
  });

  test('says how much clear water to take off, where the parts bring too much', async () => {
    const { text } = await readBack(await renderBatchSheet({ ...sheet, addWaterMl: 0, tooWetMl: 90 }));
    expect(plain(text)).toContain('Siphon off once it has settled 90 ml of clear water');
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
      'Tarn and moss Batch 12, mixed on 12 March 2026 to recipe version 2',
      'Tarn blue 1,000 g, Moss satin 1,000 g',
      'Litre weight 1,450 g. Fire to 1,200–1,250 °C.',
      'Tarn blue – May be toxic: wear gloves',
      'Dust may irritate eyes and lungs (data sheet dated 3 May 2025).',
      'The suppliers’ safety data sheets take precedence.',
      'Only a laboratory test',
      'Alder Lane Pottery',
    ])
      expect(plain(text).split(words).length - 1, words).toBe(2);
    expect(layoutFaults(pages)).toEqual([]);
  });

  test('of lustre and glass say what their kind does, also where nobody entered a sheet', async () => {
    const both = ['lustre', 'glass'].map((kind) => ({ name: `Sun ${kind}`, kind, warning: null }));
    const { text } = await readBack(await renderBucketLabels({ ...labels, copies: 1, hazards: both }));
    expect(plain(text)).toContain('Sun lustre – Flammable, and gives off solvent vapour, also in the kiln: ventilate');
    expect(plain(text)).toContain('no flames or sparks, wear gloves.');
    expect(plain(text)).toContain('Sun glass – Edges cut');
    expect(plain(text)).toContain('No warning is entered for Sun lustre, Sun glass.');
  });

  test('are never parted between two pages', async () => {
    const { pages } = await readBack(await renderBucketLabels({ ...labels, copies: 24, name: LONG_NAME }));
    expect(layoutFaults(pages)).toEqual([]);
    for (const page of pages) {
      const count = (words: string) => plain(page.text).split(words).length - 1;
      expect(count('Batch 12, mixed on')).toBe(count('Only a laboratory test'));
    }
  });
});
