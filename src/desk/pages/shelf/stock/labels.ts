import { Decimal } from '../../../../trade/money/money.js';
import type { Schemas } from '../../../api/client';
import { capital, count, type Formatter, listed } from '../../../format/formatter';
import { formatQuantity } from '../../../format/quantity';

export type Item = Schemas['OutlookItem'];

/** "by Friday 4 December", or "at once" where that day is past. */
export const orderDay = (orderBy: string, today: string, formatter: Formatter): string =>
  orderBy < today ? 'at once' : orderBy === today ? 'today' : `by ${formatter.longDay(orderBy)}`;

const on = (day: string, today: string, formatter: Formatter): string =>
  day === today ? 'today' : `by ${formatter.date(day)}`;

/** "88% chance of running out by 9 December": the strongest thing that can be said, with the chance that its table has for that day. */
export function risk(item: Item, today: string, formatter: Formatter): string {
  const { sure, oneInTwo, oneInTen } = item.shortOn;
  if (sure) return `it will run out ${on(sure, today, formatter)} on current bookings`;
  const day = oneInTwo ?? oneInTen;
  return day
    ? `${chanceBy(item, day, formatter)} chance of running out ${on(day, today, formatter)}`
    : 'less than 1 chance in 10 of running out';
}

/** "88%", or "at most 88%": the chance of having run out by a day. */
export function chanceBy({ rows, atMost }: Item, day: string, formatter: Formatter): string {
  const row = rows.find((one) => one.day === day);
  return `${atMost ? 'at most ' : ''}${chance(row?.shortChance ?? '0', formatter)}`;
}

/** "20 kg of Heron stoneware, two packs". */
export const order = ({ packs, packQuantity, unit, name, mixId }: Item, formatter: Formatter): string =>
  `${formatQuantity(packs * packQuantity, unit, formatter)} of ${name}${mixId === null ? `, ${count(packs, 'pack')},` : ''}`;

/** What is to be done about it: what is mixed here is not ordered. */
export const verb = ({ mixId }: Pick<Item, 'mixId'>): string => (mixId === null ? 'order' : 'mix');

/** What stands under a drawing: the order, the risk, and what all that comes draws. */
export function told(item: Item, today: string, formatter: Formatter): string[] {
  const { needs, needAtWorst, unit, orderBy, leadTimeDays, mixId, atMost } = item;
  const late = spoiling(item, today, formatter);
  const sum = (what: 'booked' | 'expected') =>
    formatQuantity(
      needs.reduce((all, need) => all + need[what], 0),
      unit,
      formatter,
    );
  const drawn = `Booked students will use ${sum('booked')}; with expected bookings ${sum('expected')}; 1 chance in 10 that it is more than ${formatQuantity(needAtWorst, unit, formatter)}.`;
  const mixes = [...new Set(needs.flatMap((need) => need.mixes))];
  if (mixes.length > 0) late.unshift(`Of this some goes into ${listed(mixes)}, to be mixed before it is needed.`);
  if (!orderBy) return [drawn, ...late, `${capital(risk(item, today, formatter))}.`];
  const taken = mixId === null ? 'to come' : 'to mix';
  const waiting = leadTimeDays > 0 ? `it takes ${count(leadTimeDays, 'day')} ${taken} and` : 'it';
  return [
    drawn,
    ...late,
    `${riskDays(item, formatter)}.`,
    `${capital(verb(item))} ${order(item, formatter)} ${orderDay(orderBy, today, formatter)}: ${waiting} should be there the day before. ${outcome(orderBy, today)}`,
    ...(atMost
      ? ['Too many courses are under way between deliveries to say more than “at most”: it may be less, and later.']
      : []),
  ];
}

/** What an order in time does; one that is late does it only from the day on that it comes. */
const outcome = (orderBy: string, today: string): string =>
  orderBy < today
    ? 'That day has passed: until it comes, the risk is as shown.'
    : 'That brings the risk below 1 in 10.';

/** What nobody will have used by the end of its shelf life, and what is past it already. */
function spoiling({ spoils, unit }: Item, today: string, formatter: Formatter): string[] {
  return spoils.map(({ day, quantity }) =>
    day < today
      ? `${formatQuantity(quantity, unit, formatter)} of it have passed their shelf life on ${formatter.date(day)} and are not counted: look at them, then write them off or count them in a new lot.`
      : `${formatQuantity(quantity, unit, formatter)} of it will not be used by ${formatter.date(day)}, the end of their shelf life.`,
  );
}

/** Each day with its chance: "The chance of having run out is 12% by 2 December and 88% by 9 December; ... certain on 16 December". */
function riskDays(item: Item, formatter: Formatter): string {
  const { sure, oneInTwo, oneInTen } = item.shortOn;
  const days = [...new Set([oneInTen, oneInTwo])].filter((day) => day !== null && day !== sure) as string[];
  const certain = sure ? `on current bookings it will run out on ${formatter.date(sure)}` : '';
  if (days.length === 0) return capital(certain);
  const chances = `The chance of having run out is ${listed(days.map((day) => `${chanceBy(item, day, formatter)} by ${formatter.date(day)}`))}`;
  return certain ? `${chances}; ${certain}` : chances;
}

/** "under 1%", "37%", "over 99%": a chance for a table. */
export function chance(probability: string, { locale }: Pick<Formatter, 'locale'>): string {
  const percent = new Decimal(probability).times(100);
  if (percent.isZero()) return 'none';
  if (percent.lt(1)) return 'under 1%';
  if (percent.gt(99) && percent.lt(100)) return 'over 99%';
  return `${new Intl.NumberFormat(locale, { maximumFractionDigits: 0 }).format(percent.toNumber())}%`;
}
