import { Decimal } from '../maths/number.js';
import { majorUnits, minorDigits } from '../money/money.js';
import { MAX_MINOR } from '../money/money-limits.js';
import { numberFormat } from './formatters.js';

// Numbers, quantities and amounts as people write them, read without a float on the way.

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
export function parseDecimal(text: string): string {
  const [, whole, decimals] = text.trim().match(NUMBER) ?? [];
  if (whole === undefined)
    throw new RangeError(
      `"${text.trim()}" can't be read as a number. Write digits only, with one comma or point before decimals, such as 12.5.`,
    );
  return new Decimal(decimals === undefined ? whole : `${whole}.${decimals}`).toFixed();
}

/** 1,234 is a thousand to some and little more than one to others. */
const TWO_WAYS = /^([1-9]\d{0,2})([.,])(\d{3})$/;

/**
 * A decimal of which it is not known who wrote it: what could mean two things is refused, with both.
 *
 * @throws RangeError, whose message says how to write it
 */
export function parseImportedDecimal(text: string): string {
  const [, whole, , decimals] = text.trim().match(TWO_WAYS) ?? [];
  if (whole !== undefined)
    throw new RangeError(
      `"${text.trim()}" can be read in two ways. Write ${whole}${decimals} or ${whole}.${decimals}0.`,
    );
  return parseDecimal(text);
}

/**
 * An amount of money as somebody writes it, with or without the currency's sign: "12.50", "12,5", "£12", "12 GBP". Refused is what could
 * mean two things (12.500 is twelve to some and twelve thousand to others) and what may be half written ("12.").
 *
 * @param currency   ISO 4217
 * @param leastMinor the least that is taken: 1 where it must be above nothing
 * @returns whole minor units, up to the most that one amount can be
 * @throws RangeError, whose message says what to write
 */
export function parseMoney(text: string, currency: string, leastMinor = 0): number {
  const typed = text.trim();
  const example = () => majorUnits(1250, currency);
  if (typed === '') throw new RangeError(`Write an amount in ${currency}, such as ${example()}.`);
  const bare = withoutSign(typed, currency);
  if (/\p{Sc}|\b[A-Z]{3}\b/u.test(bare))
    throw new RangeError(
      `"${typed}" is not in the studio's currency. Write the amount in ${currency}, such as ${example()}.`,
    );
  const digits = minorDigits(currency);
  const [, whole = '', point, thousandth = ''] = bare.match(TWO_WAYS) ?? [];
  if (whole !== '' && (digits !== 3 || point === ',')) {
    const other = digits === 0 ? '' : ` or ${whole}.${thousandth.slice(0, digits).padEnd(digits, '0')}`;
    throw new RangeError(`"${typed}" can be read in two ways. Write ${whole}${thousandth}${other}.`);
  }
  const minor = new Decimal(parseDecimal(bare)).times(new Decimal(10).pow(digits));
  if (!minor.isInteger())
    throw new RangeError(`"${typed}" has more decimals than ${currency} has. Write it such as ${example()}.`);
  if (minor.gt(MAX_MINOR))
    throw new RangeError(`"${typed}" is more than one amount can be: ${majorUnits(MAX_MINOR, currency)} at most.`);
  if (minor.lt(leastMinor)) throw new RangeError(`Write an amount of more than zero, such as ${example()}.`);
  return minor.toNumber();
}

/** The currency may stand before the amount or after it, once. */
function withoutSign(typed: string, currency: string): string {
  if (/^[\d.,]*$/.test(typed)) return typed;
  for (const sign of signsOf(currency)) {
    if (typed.startsWith(sign)) return typed.slice(sign.length).trim();
    if (typed.endsWith(sign)) return typed.slice(0, -sign.length).trim();
  }
  return typed;
}

/** GBP, and what it is marked by: the longest first, since $ stands in US$. */
const signsOf = (currency: string): string[] =>
  [currency, ...(['symbol', 'narrowSymbol'] as const).map((display) => signOf(currency, display))].sort(
    (a, b) => b.length - a.length,
  );

const signOf = (currency: string, currencyDisplay: 'symbol' | 'narrowSymbol'): string =>
  numberFormat('en', { style: 'currency', currency, currencyDisplay })
    .formatToParts(0)
    .find(({ type }) => type === 'currency')?.value ?? currency;

/**
 * A quantity such as "12.5 kg", "500 ml" or "3", in the base unit; without a word it is in `unit` already.
 *
 * @returns whole g, ml or pieces
 * @throws RangeError, whose message says what to write
 */
export function parseQuantity(text: string, unit: BaseUnit): number {
  const [, number = text, word = unit] = text.trim().match(QUANTITY) ?? [];
  const [base, times] = UNITS[word.toLowerCase()] ?? [];
  if (base !== unit || times === undefined)
    throw new RangeError(`"${word}" doesn't fit: this is counted in ${inWords(unit)}.`);
  const exact = new Decimal(parseDecimal(number)).times(times);
  if (!exact.isInteger())
    throw new RangeError(`"${text.trim()}" isn't whole: it is counted in whole ${unit === 'piece' ? 'pieces' : unit}.`);
  return exact.toNumber();
}

const inWords = (unit: BaseUnit) => ({ g: 'g or kg', ml: 'ml or l', piece: 'pieces' })[unit];
