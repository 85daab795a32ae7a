import { Decimal } from '../../trade/money.js';
import type { Schemas } from '../client';
import { capital, count, listed, type Tell } from '../tell';

export type Item = Schemas['OutlookItem'];
type Unit = Item['unit'];

/** "12.5 kg", "850 ml" or "14": as people say it; what is missing has a minus before it. */
export function amount(units: number, unit: Unit, { locale }: Pick<Tell, 'locale'>): string {
  const large = Math.abs(units) >= 1000;
  const number = new Intl.NumberFormat(locale, { maximumFractionDigits: large && unit !== 'piece' ? 1 : 0 });
  if (unit === 'piece') return number.format(units).replace('-', '−');
  const called = unit === 'g' ? (large ? 'kg' : 'g') : large ? 'l' : 'ml';
  return `${number.format(large ? units / 1000 : units).replace('-', '−')}\u00a0${called}`;
}

/** "4 Dec", for a drawing. */
export function shortDate(day: string, { locale }: Pick<Tell, 'locale'>): string {
  const tongue = locale.startsWith('en') ? locale : 'en-GB';
  const dates = new Intl.DateTimeFormat(tongue, { timeZone: 'UTC', day: 'numeric', month: 'short' });
  return dates.format(new Date(`${day}T12:00:00Z`));
}

/** "by Friday, 4 December", or "at once" where that day is past. */
export const orderDay = (orderBy: string, today: string, tell: Tell): string =>
  orderBy < today ? 'at once' : orderBy === today ? 'today' : `by ${tell.longDay(orderBy)}`;

const on = (day: string, today: string, tell: Tell): string => (day === today ? 'today' : `by ${tell.date(day)}`);

/** "those booked alone run it short by 9 December": the strongest thing that can be said. */
export function risk({ shortOn: { sure, oneInTwo, oneInTen } }: Item, today: string, tell: Tell): string {
  if (sure) return `those booked alone run it short ${on(sure, today, tell)}`;
  if (oneInTwo) return `one chance in two that it has run short ${on(oneInTwo, today, tell)}`;
  if (oneInTen) return `one chance in ten that it has run short ${on(oneInTen, today, tell)}`;
  return 'less than one chance in ten that it runs short';
}

/** "20 kg of Heron stoneware, two packs". */
export const order = ({ packs, packQuantity, unit, name, mixId }: Item, tell: Tell): string =>
  `${amount(packs * packQuantity, unit, tell)} of ${name}${mixId === null ? `, ${count(packs, 'pack')},` : ''}`;

/** What is to be done about it: what is mixed here is not ordered. */
export const verb = ({ mixId }: Pick<Item, 'mixId'>): string => (mixId === null ? 'order' : 'mix');

/** What stands under a drawing: the order, the risk, and what all that comes draws. */
export function told(item: Item, today: string, tell: Tell): string[] {
  const { needs, onHand, unit, orderBy, rows, leadTimeDays, mixId } = item;
  const late = spoiling(item, today, tell);
  const sum = (what: 'booked' | 'expected') =>
    amount(
      needs.reduce((all, need) => all + need[what], 0),
      unit,
      tell,
    );
  const worst = amount(onHand - (rows.at(-1)?.leftAtWorst ?? onHand), unit, tell);
  const drawn = `Those booked still draw ${sum('booked')}; with those expected it is ${sum('expected')}, and with one chance in ten more than ${worst}.`;
  const mixes = [...new Set(needs.flatMap((need) => need.mixes))];
  if (mixes.length > 0) late.unshift(`Of this some goes into ${listed(mixes)}, to be mixed before it is needed.`);
  if (!orderBy) return [drawn, ...late, `${capital(risk(item, today, tell))}.`];
  const taken = mixId === null ? 'to come' : 'to mix';
  const waiting = leadTimeDays > 0 ? `it takes ${count(leadTimeDays, 'day')} ${taken} and` : 'it';
  return [
    drawn,
    ...late,
    `${capital(riskDays(item, tell))}.`,
    `${capital(verb(item))} ${order(item, tell)} ${orderDay(orderBy, today, tell)}: ${waiting} should be there the day before. Then less than one chance in ten is left.`,
  ];
}

/** What nobody will have used by the end of its shelf life, and what is past it already. */
function spoiling({ spoils, unit }: Item, today: string, tell: Tell): string[] {
  return spoils.map(({ day, quantity }) =>
    day < today
      ? `${amount(quantity, unit, tell)} of it have passed their shelf life on ${tell.date(day)} and are not counted: look at them, then write them off or count them in a new lot.`
      : `${amount(quantity, unit, tell)} of it will not be used by ${tell.date(day)}, the end of their shelf life.`,
  );
}

/** Each day with its chance: "one chance in ten by 2 December, with one chance in two by 9 December, and those booked alone ...". */
function riskDays({ shortOn: { sure, oneInTwo, oneInTen } }: Item, tell: Tell): string {
  const parts = [
    oneInTen && oneInTen !== sure && oneInTen !== oneInTwo ? `with one chance in ten by ${tell.date(oneInTen)}` : '',
    oneInTwo && oneInTwo !== sure ? `with one chance in two by ${tell.date(oneInTwo)}` : '',
    sure ? `for those booked alone on ${tell.date(sure)}` : '',
  ].filter((part) => part !== '');
  return `it has run short ${listed(parts)}`;
}

/** "under 1 %", "37 %", "over 99 %": a chance for a table. */
export function chance(probability: string, { locale }: Pick<Tell, 'locale'>): string {
  const percent = new Decimal(probability).times(100);
  if (percent.isZero()) return 'none';
  if (percent.lt(1)) return 'under 1\u00a0%';
  if (percent.gt(99) && percent.lt(100)) return 'over 99\u00a0%';
  return `${new Intl.NumberFormat(locale, { maximumFractionDigits: 0 }).format(percent.toNumber())}\u00a0%`;
}
