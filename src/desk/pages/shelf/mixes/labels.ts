import { Decimal } from '../../../../trade/money/money.js';
import { capital, count, type Formatter } from '../../../format/formatter';
import type { Phrase } from '../../../format/phrases';
import { formatQuantity } from '../../../format/quantity';
import type { Batch, Kept, Mix } from './queries';

export const placeOf = ({ id }: Pick<Mix, 'id'>): string => `mix-${id}`;

/** The answer: how many mixes, and the last batch that stands. */
export function answerOf(kept: readonly Kept[], today: string, formatter: Formatter): Phrase[] {
  if (kept.length === 0)
    return [
      'Nothing yet. Say below which of your materials you mix, and of what: then each batch is weighed, costed and can be made again.',
    ];
  const standing = kept.flatMap(({ mix, batches }) => {
    const batch = batches.find(({ undoing }) => undoing === null);
    return batch ? [{ mix, batch }] : [];
  });
  const [last] = standing.sort((a, b) => b.batch.number - a.batch.number);
  const how = `${capital(count(kept.length, 'mix', 'mixes'))}. `;
  if (!last) return [how, 'No batch was made yet.'];
  const { mix, batch } = last;
  const left = batch.left === 0 ? 'nothing of it is left' : `${formatQuantity(batch.left, batch.unit, formatter)} left`;
  return [
    how,
    'The last batch was ',
    { text: `${formatQuantity(batch.quantity, batch.unit, formatter)} of ${batch.name}`, to: `#${placeOf(mix)}` },
    ` ${on(batch.madeOn, today, formatter)}; ${left}.`,
  ];
}

/** "today", or "on 3 March". */
export function on(day: string, today: string, formatter: Formatter): string {
  const told = formatter.day(day, today);
  return ['today', 'yesterday'].includes(told) ? told : `on ${formatter.date(day)}`;
}

/** What each part is of the whole, in percent; they add up as exact numbers, and are rounded to be read. */
export function percents(parts: readonly { share: string }[]): number[] {
  const sum = parts.reduce((total, { share }) => total.plus(share), new Decimal(0));
  return parts.map(({ share }) => new Decimal(share).div(sum).times(100).toNumber());
}

export function percent(part: number, { locale }: Pick<Formatter, 'locale'>): string {
  return `${new Intl.NumberFormat(locale, { maximumFractionDigits: part < 1 ? 2 : 1 }).format(part)}%`;
}

/** How the recipe is meant, in a sentence under its picture. */
export function meaningOf({ weights, litreGrams, solidsDensity, product, note }: Mix, formatter: Formatter): string {
  const of = weights === 'dry' ? 'Dry weights' : 'Weights of materials as used (wet)';
  const litre = litreGrams === null ? '' : ` Target litre weight ${exact(litreGrams, formatter)}.`;
  const known = product.unit === 'ml' ? ` A ml of it holds ${product.dryGramsPerMl} g of dry matter.` : '';
  const density = `; density ${solidsDensity === null ? 'assumed 2.6 (not measured)' : solidsDensity}.`;
  return `${of}${density}${litre}${known}${note ? ` ${note.replace(/[.]?$/, '.')}` : ''}`;
}

export const left = (batch: Batch, formatter: Formatter): string =>
  batch.undoing
    ? 'taken back'
    : batch.left === 0
      ? 'all used'
      : `${formatQuantity(batch.left, batch.unit, formatter)} left`;

/** To the gram, as the scale shows it. */
export const exact = (grams: number, { locale }: Pick<Formatter, 'locale'>): string =>
  `${new Intl.NumberFormat(locale).format(grams)}\u00a0g`;
