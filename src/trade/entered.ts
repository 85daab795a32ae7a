import { Decimal } from './number.js';

// Numbers and quantities as people write them, read without a float on the way.

type BaseUnit = 'g' | 'ml' | 'piece';

const NUMBER = /^(\d{1,12})(?:[.,](\d{1,12}))?$/;
const QUANTITY = /^(\P{L}+)(\p{L}+)?$/u; // what lies between the two is trimmed: a pattern for it would try every split

/** What a word after a number says: the base unit, and how many of it one is. */
const UNITS: Record<string, readonly [BaseUnit, number]> = {
  g: ['g', 1],
  kg: ['g', 1000],
  ml: ['ml', 1],
  l: ['ml', 1000],
  piece: ['piece', 1],
  pieces: ['piece', 1],
};

/**
 * A decimal with a comma or a point before its decimals, whichever people write; never a sign between thousands.
 *
 * @returns with a point: "12.5"
 * @throws RangeError, whose message says how to write it, also below zero
 */
export function decimalEntered(text: string): string {
  const [, whole, decimals] = text.trim().match(NUMBER) ?? [];
  if (whole === undefined)
    throw new RangeError(
      `"${text.trim()}" can't be read as a number. Write digits only, with one comma or point before decimals, such as 12.5.`,
    );
  return new Decimal(decimals === undefined ? whole : `${whole}.${decimals}`).toFixed();
}

/**
 * A quantity such as "12.5 kg", "500 ml" or "3", in the base unit; without a word it is in `unit` already.
 *
 * @returns whole g, ml or pieces
 * @throws RangeError, whose message says what to write
 */
export function quantityEntered(text: string, unit: BaseUnit): number {
  const [, number = text, word = unit] = text.trim().match(QUANTITY) ?? [];
  const [base, times] = UNITS[word.toLowerCase()] ?? [];
  if (base !== unit || times === undefined)
    throw new RangeError(`"${word}" doesn't fit: this is counted in ${inWords(unit)}.`);
  const exact = new Decimal(decimalEntered(number)).times(times);
  if (!exact.isInteger())
    throw new RangeError(`"${text.trim()}" isn't whole: it is counted in whole ${unit === 'piece' ? 'pieces' : unit}.`);
  return exact.toNumber();
}

const inWords = (unit: BaseUnit) => ({ g: 'g or kg', ml: 'ml or l', piece: 'pieces' })[unit];
