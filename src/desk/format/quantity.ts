import { Decimal } from '../../trade/money/money.js';
import type { Formatter } from './formatter';

export type Unit = 'g' | 'ml' | 'piece';

/** "12.5 kg", "850 ml" or "14": as people say it; what is missing has a minus before it. */
export function formatQuantity(units: number, unit: Unit, { locale }: Pick<Formatter, 'locale'>): string {
  const large = Math.abs(units) >= 1000;
  const number = new Intl.NumberFormat(locale, { maximumFractionDigits: large && unit !== 'piece' ? 1 : 0 });
  if (unit === 'piece') return number.format(units).replace('-', '−');
  const called = unit === 'g' ? (large ? 'kg' : 'g') : large ? 'l' : 'ml';
  return `${number.format(large ? units / 1000 : units).replace('-', '−')}\u00a0${called}`;
}

/** "4 Dec", for a drawing. */
export function shortDate(day: string, { locale }: Pick<Formatter, 'locale'>): string {
  const tongue = locale.startsWith('en') ? locale : 'en-GB';
  const dates = new Intl.DateTimeFormat(tongue, { timeZone: 'UTC', day: 'numeric', month: 'short' });
  return dates.format(new Date(`${day}T12:00:00Z`));
}

/** "12.5 kg", as parseQuantity reads it. */
export function plainQuantity(units: number, unit: Unit): string {
  if (unit === 'piece') return String(units);
  return units < 1000 ? `${units} ${unit}` : `${new Decimal(units).div(1000).toFixed()} ${unit === 'g' ? 'kg' : 'l'}`;
}
