import { capital, count, type Formatter, listed } from '../../../format/formatter';
import type { Phrase } from '../../../format/phrases';
import { type Item, order, orderDay, risk, verb } from './labels';

/** More orders than this are a list, not a sentence. */
const TOLD = 2;

export const placeOf = ({ materialId }: Pick<Item, 'materialId'>): string => `material-${materialId}`;

/** The answer: what to order by when and why, or that all lasts; and what must be counted before anybody believes it. */
export function answerOf(items: readonly Item[], today: string, formatter: Formatter): Phrase[] {
  if (items.length === 0) return ['No course is coming, so nothing will be used.'];
  const orders = items.filter(({ orderBy }) => orderBy !== null);
  const counts = items.filter(({ asksForCount }) => asksForCount);
  const phrases: Phrase[] =
    orders.length > 0
      ? orders
          .slice(0, TOLD)
          .flatMap((item, i) => [`${i > 0 ? ' ' : ''}${capital(verb(item))} `, ...told(item, today, formatter)])
      : [
          `Yes: ${items.length === 1 ? 'it lasts' : `all ${count(items.length, 'material')} last`} for every course to come; the chance that one runs short is 1 in 10 or less.`,
        ];
  const more = orders.length - TOLD;
  if (more > 0) phrases.push(` ${capital(count(more, 'more material'))} must be ordered or mixed after that.`);
  if (counts.length > 0)
    phrases.push(` Count ${listed(counts.map(({ name }) => name))} first: the recorded stock can’t be right.`);
  return phrases;
}

function told(item: Item, today: string, formatter: Formatter): Phrase[] {
  const tone = item.shortOn.sure || (item.orderBy ?? '') < today ? 'iron' : 'amber';
  return [
    {
      text: `${order(item, formatter)} ${orderDay(item.orderBy ?? today, today, formatter)}`,
      to: `#${placeOf(item)}`,
      tone,
    },
    `; ${risk(item, today, formatter)}.`,
  ];
}
