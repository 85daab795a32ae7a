import type { Transaction } from '../../database/transaction.js';
import type { BatchSheetContent } from '../../documents/batch-sheet-content.js';
import type { BucketLabelsContent } from '../../documents/bucket-labels-content.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { ASSUMED_SOLIDS_DENSITY } from '../../trade/materials/mix.js';
import { numberFormat } from '../../trade/text/formatters.js';
import { hazardsOf } from '../materials/hazards.js';
import { getMaterial } from '../materials/service.js';
import { getPaperHead } from '../settings/paper-head.js';
import { getStudio } from '../settings/service.js';
import { getBatch, getWeighedOut } from './batches.js';
import { getMix } from './service.js';

const idsOf = (parts: readonly { materialId: string }[]) => parts.map(({ materialId }) => materialId);

/** What stands on the sheet by which so much of a mix is weighed out. */
export async function batchSheet(
  tx: Transaction,
  now: Date,
  mixId: string,
  makeGrams: number,
): Promise<BatchSheetContent> {
  const mix = await getMix(tx, mixId);
  const studio = await getStudio(tx);
  const { parts, yieldQuantity, addWaterMl, tooWetMl, litreGrams } = getWeighedOut(mix, makeGrams);
  const number = numberFormat(studio.locale);
  return {
    ...(await getPaperHead(tx)),
    ...{ name: mix.product.name, version: mix.version, printedOn: localDay(now, studio.timeZone) },
    ...{ makeGrams, weights: mix.weights, inPercent: mix.inPercent, addWaterMl, tooWetMl, litreGrams },
    parts: mix.parts.map(({ name, share, unit }, i) => {
      const { grams = 0, weighGrams = 0, quantity = 0 } = parts[i] ?? {};
      return { name, share, grams, weighGrams, ml: unit === 'ml' ? quantity : null };
    }),
    solidsDensity: mix.solidsDensity ?? ASSUMED_SOLIDS_DENSITY,
    isDensityAssumed: mix.solidsDensity === null,
    makes: `${number.format(yieldQuantity)} ${mix.product.unit}`,
    note: mix.note,
    hazards: await hazardsOf(tx, idsOf(mix.parts)),
  };
}

/** What stands on the buckets of a batch. */
export async function bucketLabels(tx: Transaction, batchId: string, copies: number): Promise<BucketLabelsContent> {
  const { name, number, version, madeOn, parts, litreGrams, materialId } = await getBatch(tx, batchId);
  const studio = await getStudio(tx);
  const { firingRange } = await getMaterial(tx, materialId);
  return {
    ...(await getPaperHead(tx)),
    ...{ copies, name, number, version, mixedOn: madeOn, litreGrams },
    parts: parts.map((part) => ({ name: part.name, grams: part.weighGrams })),
    firesC: firingRange === null ? null : rangeInWords(firingRange, studio.locale),
    hazards: await hazardsOf(tx, idsOf(parts)),
  };
}

/** "1,200–1,240 °C" */
function rangeInWords({ fromC, toC }: { fromC: number; toC: number }, locale: string): string {
  const number = numberFormat(locale);
  return `${number.format(fromC)}–${number.format(toC)}\u00a0°C`;
}
