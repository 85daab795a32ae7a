import { adviceOnLitre, HEAVIEST_LITRE_GRAMS, LIGHTEST_LITRE_GRAMS } from '../../../../trade/materials/litre-weight.js';
import type { WeighedBatch } from '../../../../trade/materials/mix.js';
import { type Formatter, listed } from '../../../format/formatter';
import { formatQuantity } from '../../../format/quantity';
import { exact } from './labels';
import type { Mix } from './queries';

export const LITRE_FAULT = `A litre weighs from ${LIGHTEST_LITRE_GRAMS} to ${HEAVIEST_LITRE_GRAMS} g, in whole grams. Weigh it again, without the jug.`;

type Weighed = Pick<WeighedBatch, 'parts' | 'addWaterMl' | 'litreGrams' | 'yieldQuantity'>;

/** What a litre that was weighed says, while it is typed: the water to add or to take off, and the ways in which such glaze is put on. */
export function litreInWords(
  typed: string,
  batch: Weighed,
  measured: number,
  { product }: Mix,
  formatter: Formatter,
): string {
  const grams = /^\d{1,4}$/.test(typed.trim()) ? Number(typed) : 0;
  if (grams < LIGHTEST_LITRE_GRAMS || grams > HEAVIEST_LITRE_GRAMS) return LITRE_FAULT;
  const { addWaterMl, ways } = adviceOnLitre(volumeOf(batch, measured, product, grams), grams, batch.litreGrams);
  const suits =
    ways.length > 0
      ? `By published figures glaze of that weight is ${listed(ways)}.`
      : 'That is outside all published figures for glaze that is sprayed, poured, dipped or brushed: try it on a tile first.';
  return `${waterInWords(addWaterMl, batch.litreGrams, formatter)} ${suits} They differ from potter to potter.`;
}

function waterInWords(addWaterMl: number, wanted: number | null, formatter: Formatter): string {
  if (wanted === null) return '';
  if (addWaterMl === 0) return `It weighs what the recipe says.`;
  const water = formatQuantity(Math.abs(addWaterMl), 'ml', formatter);
  return addWaterMl > 0
    ? `Add ${water} of water, a little at a time, and a litre weighs ${exact(wanted, formatter)} as the recipe says.`
    : `It is thinner than the recipe’s ${exact(wanted, formatter)}: let it settle and take ${water} of clear water off, or let so much evaporate.`;
}

/** In ml: as measured, as the recipe makes, or of what is kept in grams all that is in the bucket by what a litre weighs. */
function volumeOf(
  { parts, addWaterMl, yieldQuantity }: Weighed,
  measured: number,
  { unit }: Mix['product'],
  grams: number,
) {
  if (unit === 'ml') return measured > 0 ? measured : yieldQuantity;
  const all = parts.reduce((sum, { weighGrams }) => sum + weighGrams, addWaterMl);
  return Math.round((all * 1000) / grams);
}

/** Of a batch that was made: what its litre weighed, where somebody weighed it. */
export function litreMeasured(
  { measuredLitreGrams, litreGrams }: { measuredLitreGrams: number | null; litreGrams: number | null },
  formatter: Formatter,
): string {
  if (measuredLitreGrams === null) return '';
  const wanted =
    litreGrams === null || litreGrams === measuredLitreGrams ? '' : `, of ${exact(litreGrams, formatter)} wanted`;
  return ` A litre weighed ${exact(measuredLitreGrams, formatter)}${wanted}.`;
}
