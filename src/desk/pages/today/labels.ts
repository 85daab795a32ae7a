import { Decimal } from '../../../trade/money/money.js';
import type { Schemas } from '../../api/client';
import type { Formatter } from '../../format/formatter';

export type Today = Schemas['Today'];
export type Firing = Today['firings'][number];
export type Session = Today['sessions'][number];
export type Order = Today['orders'][number];
export type Waiting = Today['boards'][number]['waiting'];

export const firingCalled = ({ kind, number }: Pick<Firing, 'kind' | 'number'>): string => `${kind} firing ${number}`;

/** "25 kg", "4 l" or "12": what is ordered together, in the unit that people say. */
export function quantityOf({ packs, packQuantity, unit }: Order, { locale }: Pick<Formatter, 'locale'>): string {
  const all = new Decimal(packs).times(packQuantity);
  const number = new Intl.NumberFormat(locale, { maximumFractionDigits: 2 });
  if (unit === 'piece') return number.format(all.toNumber());
  const large = all.gte(1000);
  const called = unit === 'g' ? (large ? 'kg' : 'g') : large ? 'l' : 'ml';
  return `${number.format(all.div(large ? 1000 : 1).toNumber())}\u00a0${called}`;
}

export const orderCalled = (order: Order, formatter: Formatter): string =>
  order.unit === 'piece'
    ? `${quantityOf(order, formatter)} ${order.name}`
    : `${quantityOf(order, formatter)} of ${order.name}`;

/** "at 19:00" on the day that is told about, "on Thursday at 19:00" on another. */
export function when(instant: string, day: string, formatter: Formatter): string {
  const on = formatter.dayOf(instant);
  const time = formatter.time(instant);
  if (on === day) return `at ${time}`;
  const called = formatter.day(on, day);
  return /^(tomorrow|yesterday)$/.test(called) ? `${called} at ${time}` : `on ${called} at ${time}`;
}

/** "since 7:40" today, else "since yesterday" or "since 12 March". */
export function since(instant: string, day: string, formatter: Formatter): string {
  const on = formatter.dayOf(instant);
  return on === day ? `since ${formatter.time(instant)}` : `since ${formatter.day(on, day)}`;
}

export function by(date: string, day: string, formatter: Formatter): string {
  return date < day ? 'at once' : `by ${formatter.day(date, day)}`;
}
