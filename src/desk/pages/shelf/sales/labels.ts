import { quantityInWords, SOLD_BY } from '../../../../trade/money/sale-units.js';
import { capital, count, type Formatter } from '../../../format/formatter';
import type { Phrase } from '../../../format/phrases';
import type { Tone } from '../../../ui/data-table';
import { LATELY_DAYS, type Material, type Sale, type Selling } from './queries';

const DAY_MILLISECONDS = 86_400_000;

export const placeOf = ({ id }: Pick<Sale, 'id'>): string => `sale-${id}`;

/** "a kilogram", "a litre", "a piece": for what a price is. */
export const each = (unit: Material['unit']): string =>
  ({ kg: 'a kilogram', l: 'a litre', piece: 'a piece' })[SOLD_BY[unit].unit];

export const inWords = (quantity: number, unit: Material['unit'], { locale }: Pick<Formatter, 'locale'>): string =>
  quantityInWords(quantity, unit, locale);

/** What was sold in the last four weeks, and what is still owed for material, whenever it was sold. */
export function answerOf(
  { sales, owedMinor }: Pick<Selling, 'sales' | 'owedMinor'>,
  today: string,
  formatter: Formatter,
): Phrase[] {
  const since = new Date(Date.parse(today) - LATELY_DAYS * DAY_MILLISECONDS).toISOString().slice(0, 10);
  const lately = sales.filter(({ at, keptQuantity }) => formatter.dayOf(at) > since && keptQuantity > 0);
  const sum = lately.reduce((all, { grossMinor, creditedMinor }) => all + grossMinor - creditedMinor, 0);
  const sold =
    lately.length === 0
      ? 'Nobody took any material home in the last four weeks'
      : `${capital(count(lately.length, 'sale'))} in the last four weeks, ${formatter.money(sum)} altogether`;
  if (owedMinor === 0) return [`${sold}${lately.length > 0 ? ', and all of it is paid' : ''}.`];
  return [
    `${sold}; `,
    { text: `${formatter.money(owedMinor)} for material`, to: '/money', tone: 'iron' },
    ' is still owed.',
  ];
}

/** What goes from the shelf, and what of it the books don't hold. */
export function afterSaleInWords(quantity: number, { name, unit, onHand }: Material, formatter: Formatter): string {
  const [going, held] = [inWords(quantity, unit, formatter), inWords(onHand, unit, formatter)];
  if (quantity <= onHand) return `In stock: ${held}; ${inWords(onHand - quantity, unit, formatter)} will be left.`;
  if (onHand === 0) return `No stock recorded of ${name}. The sale will be recorded; please count the shelf.`;
  return `Only ${held} in stock: the rest of the ${going} is recorded as found; please count the shelf.`;
}

/** How a sale stands. */
export function stateOf({ keptQuantity, owedMinor }: Sale, formatter: Formatter): { text: string; tone: Tone } {
  if (keptQuantity === 0) return { text: 'all came back', tone: 'quiet' };
  return owedMinor > 0
    ? { text: `${formatter.money(owedMinor)} owed`, tone: 'iron' }
    : { text: 'paid', tone: 'celadon' };
}
