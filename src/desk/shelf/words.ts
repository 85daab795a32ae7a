import { Decimal } from '../../trade/money/money.js';
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

/** "by Friday 4 December", or "at once" where that day is past. */
export const orderDay = (orderBy: string, today: string, tell: Tell): string =>
  orderBy < today ? 'at once' : orderBy === today ? 'today' : `by ${tell.longDay(orderBy)}`;

const on = (day: string, today: string, tell: Tell): string => (day === today ? 'today' : `by ${tell.date(day)}`);

/** "88% chance of running out by 9 December": the strongest thing that can be said, with the chance that its table has for that day. */
export function risk(item: Item, today: string, tell: Tell): string {
  const { sure, oneInTwo, oneInTen } = item.shortOn;
  if (sure) return `it will run out ${on(sure, today, tell)} on current bookings`;
  const day = oneInTwo ?? oneInTen;
  return day
    ? `${chanceBy(item, day, tell)} chance of running out ${on(day, today, tell)}`
    : 'less than 1 chance in 10 of running out';
}

/** "88%", or "at most 88%": the chance of having run out by a day. */
export function chanceBy({ rows, atMost }: Item, day: string, tell: Tell): string {
  const row = rows.find((one) => one.day === day);
  return `${atMost ? 'at most ' : ''}${chance(row?.shortChance ?? '0', tell)}`;
}

/** "20 kg of Heron stoneware, two packs". */
export const order = ({ packs, packQuantity, unit, name, mixId }: Item, tell: Tell): string =>
  `${amount(packs * packQuantity, unit, tell)} of ${name}${mixId === null ? `, ${count(packs, 'pack')},` : ''}`;

/** What is to be done about it: what is mixed here is not ordered. */
export const verb = ({ mixId }: Pick<Item, 'mixId'>): string => (mixId === null ? 'order' : 'mix');

/** What stands under a drawing: the order, the risk, and what all that comes draws. */
export function told(item: Item, today: string, tell: Tell): string[] {
  const { needs, needAtWorst, unit, orderBy, leadTimeDays, mixId, atMost } = item;
  const late = spoiling(item, today, tell);
  const sum = (what: 'booked' | 'expected') =>
    amount(
      needs.reduce((all, need) => all + need[what], 0),
      unit,
      tell,
    );
  const drawn = `Booked students will use ${sum('booked')}; with expected bookings ${sum('expected')}; 1 chance in 10 that it is more than ${amount(needAtWorst, unit, tell)}.`;
  const mixes = [...new Set(needs.flatMap((need) => need.mixes))];
  if (mixes.length > 0) late.unshift(`Of this some goes into ${listed(mixes)}, to be mixed before it is needed.`);
  if (!orderBy) return [drawn, ...late, `${capital(risk(item, today, tell))}.`];
  const taken = mixId === null ? 'to come' : 'to mix';
  const waiting = leadTimeDays > 0 ? `it takes ${count(leadTimeDays, 'day')} ${taken} and` : 'it';
  return [
    drawn,
    ...late,
    `${riskDays(item, tell)}.`,
    `${capital(verb(item))} ${order(item, tell)} ${orderDay(orderBy, today, tell)}: ${waiting} should be there the day before. ${outcome(orderBy, today)}`,
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
function spoiling({ spoils, unit }: Item, today: string, tell: Tell): string[] {
  return spoils.map(({ day, quantity }) =>
    day < today
      ? `${amount(quantity, unit, tell)} of it have passed their shelf life on ${tell.date(day)} and are not counted: look at them, then write them off or count them in a new lot.`
      : `${amount(quantity, unit, tell)} of it will not be used by ${tell.date(day)}, the end of their shelf life.`,
  );
}

/** Each day with its chance: "The chance of having run out is 12% by 2 December and 88% by 9 December; ... certain on 16 December". */
function riskDays(item: Item, tell: Tell): string {
  const { sure, oneInTwo, oneInTen } = item.shortOn;
  const days = [...new Set([oneInTen, oneInTwo])].filter((day) => day !== null && day !== sure) as string[];
  const certain = sure ? `on current bookings it will run out on ${tell.date(sure)}` : '';
  if (days.length === 0) return capital(certain);
  const chances = `The chance of having run out is ${listed(days.map((day) => `${chanceBy(item, day, tell)} by ${tell.date(day)}`))}`;
  return certain ? `${chances}; ${certain}` : chances;
}

/** "under 1%", "37%", "over 99%": a chance for a table. */
export function chance(probability: string, { locale }: Pick<Tell, 'locale'>): string {
  const percent = new Decimal(probability).times(100);
  if (percent.isZero()) return 'none';
  if (percent.lt(1)) return 'under 1%';
  if (percent.gt(99) && percent.lt(100)) return 'over 99%';
  return `${new Intl.NumberFormat(locale, { maximumFractionDigits: 0 }).format(percent.toNumber())}%`;
}
