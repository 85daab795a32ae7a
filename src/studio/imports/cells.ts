import { decimalEntered, quantityEntered } from '../../trade/entered.js';
import { Decimal, majorUnits, minorDigits } from '../../trade/money.js';
import type { Known } from './list.js';

// How cells are read, each as the contract takes it. What could mean two things is refused, with both.

export const text = (cell: string): string => cell;

/** 1,234 is a thousand to some and little more than one to others. */
const TWO_WAYS = /^([1-9]\d{0,2})[.,](\d{3})$/;

export function decimal(cell: string): string {
  const [, whole, decimals] = cell.match(TWO_WAYS) ?? [];
  if (whole !== undefined)
    throw new RangeError(`"${cell}" can be read in two ways. Write ${whole}${decimals} or ${whole}.${decimals}0.`);
  return decimalEntered(cell);
}

export function whole(cell: string): number {
  const exact = new Decimal(decimal(cell));
  if (!exact.isInteger()) throw new RangeError(`"${cell}" must be a whole number.`);
  return exact.toNumber();
}

export function quantity(cell: string, unit: 'g' | 'ml' | 'piece'): number {
  const [number = ''] = cell.match(/^[\d.,]+/) ?? [];
  if (number) decimal(number);
  return quantityEntered(cell, unit);
}

/** Days are written one way only: 03/04/2026 is March to some and April to others. */
export function day(cell: string): string {
  if (/^\d{4}-\d{2}-\d{2}$/.test(cell)) return cell;
  throw new RangeError(
    `"${cell}" can be read in more than one way, or not at all. Write year-month-day, such as 2026-03-09.`,
  );
}

/** An amount in the studio's currency, with or without its sign, in minor units. */
export function money(cell: string, { currency }: Pick<Known, 'currency'>): number {
  const bare = signsOf(currency)
    .reduce((rest, sign) => rest.replace(sign, ''), cell)
    .trim();
  if (/\p{Sc}|[A-Za-z]/u.test(bare))
    throw new RangeError(
      `"${cell}" is not in the studio's currency. Write the amount in ${currency}, such as ${majorUnits(1850, currency)}.`,
    );
  const minor = new Decimal(decimal(bare)).times(new Decimal(10).pow(minorDigits(currency)));
  if (!minor.isInteger())
    throw new RangeError(
      `"${cell}" has more decimals than ${currency} knows. Write it such as ${majorUnits(1850, currency)}.`,
    );
  return minor.toNumber();
}

/** GBP, and what it is marked by: the longest first, since $ stands in US$. */
const signsOf = (currency: string) =>
  [currency, ...(['symbol', 'narrowSymbol'] as const).map((currencyDisplay) => signOf(currency, currencyDisplay))].sort(
    (a, b) => b.length - a.length,
  );

const signOf = (currency: string, currencyDisplay: 'symbol' | 'narrowSymbol') =>
  new Intl.NumberFormat('en', { style: 'currency', currency, currencyDisplay })
    .formatToParts(0)
    .find(({ type }) => type === 'currency')?.value ?? currency;
