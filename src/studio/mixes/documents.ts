import type { Transaction } from '../../database/transaction.js';
import type { BatchSheetContent } from '../../documents/batch-sheet-content.js';
import type { BucketLabelsContent } from '../../documents/bucket-labels-content.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { ASSUMED_SOLIDS_DENSITY } from '../../trade/materials/mix.js';
import { head } from '../accounts/payments/receipts.js';
import { hazardsOf } from '../materials/hazards.js';
import { material } from '../materials/service.js';
import { studio } from '../settings/service.js';
import { batch, weighedOut } from './batches.js';
import { mix } from './service.js';

const idsOf = (parts: readonly { materialId: string }[]) => parts.map(({ materialId }) => materialId);

/** What stands on the sheet by which so much of a mix is weighed out. */
export async function batchSheet(
  tx: Transaction,
  now: Date,
  mixId: string,
  makeGrams: number,
): Promise<BatchSheetContent> {
  const recipe = await mix(tx, mixId);
  const home = await studio(tx);
  const { parts, yieldQuantity, addWaterMl, tooWetMl, litreGrams } = weighedOut(recipe, makeGrams);
  const number = new Intl.NumberFormat(home.locale);
  return {
    ...head(home),
    ...{ name: recipe.product.name, version: recipe.version, printedOn: localDay(now, home.timeZone) },
    ...{ makeGrams, weights: recipe.weights, inPercent: recipe.inPercent, addWaterMl, tooWetMl, litreGrams },
    parts: recipe.parts.map(({ name, share, unit }, i) => {
      const { grams = 0, weighGrams = 0, quantity = 0 } = parts[i] ?? {};
      return { name, share, grams, weighGrams, ml: unit === 'ml' ? quantity : null };
    }),
    solidsDensity: recipe.solidsDensity ?? ASSUMED_SOLIDS_DENSITY,
    isDensityAssumed: recipe.solidsDensity === null,
    makes: `${number.format(yieldQuantity)} ${recipe.product.unit}`,
    note: recipe.note,
    hazards: await hazardsOf(tx, idsOf(recipe.parts)),
  };
}

/** What stands on the buckets of a batch. */
export async function bucketLabels(tx: Transaction, batchId: string, copies: number): Promise<BucketLabelsContent> {
  const { name, number, version, madeOn, parts, litreGrams, materialId } = await batch(tx, batchId);
  const home = await studio(tx);
  const { firingRange } = await material(tx, materialId);
  return {
    ...head(home),
    ...{ copies, name, number, version, mixedOn: madeOn, litreGrams },
    parts: parts.map((part) => ({ name: part.name, grams: part.weighGrams })),
    firesC: firingRange === null ? null : rangeInWords(firingRange, home.locale),
    hazards: await hazardsOf(tx, idsOf(parts)),
  };
}

/** "1,200–1,240 °C" */
function rangeInWords({ fromC, toC }: { fromC: number; toC: number }, locale: string): string {
  const number = new Intl.NumberFormat(locale);
  return `${number.format(fromC)}–${number.format(toC)}\u00a0°C`;
}
