import { Decimal } from '../../trade/money/money.js';
import { parseImportedDecimal, parseMoney, parseQuantity } from '../../trade/text/parse-input.js';
import type { Known } from './list.js';

// How cells are read, each as the contract takes it. What could mean two things is refused, with both.

export const text = (cell: string): string => cell;

export const decimal = parseImportedDecimal;

export function whole(cell: string): number {
  const exact = new Decimal(decimal(cell));
  if (!exact.isInteger()) throw new RangeError(`"${cell}" must be a whole number.`);
  return exact.toNumber();
}

export function quantity(cell: string, unit: 'g' | 'ml' | 'piece'): number {
  const [number = ''] = cell.match(/^[\d.,]+/) ?? [];
  if (number) decimal(number);
  return parseQuantity(cell, unit);
}

/** Days are written one way only: 03/04/2026 is March to some and April to others. */
export function day(cell: string): string {
  if (/^\d{4}-\d{2}-\d{2}$/.test(cell)) return cell;
  throw new RangeError(
    `"${cell}" can be read in more than one way, or not at all. Write year-month-day, such as 2026-03-09.`,
  );
}

/** An amount in the studio's currency, with or without its sign, in minor units. */
export const money = (cell: string, { currency }: Pick<Known, 'currency'>): number => parseMoney(cell, currency);
