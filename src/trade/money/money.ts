import { Decimal } from '../maths/number.js';
import { remember } from '../maths/remember.js';
import { numberFormat } from '../text/formatters.js';

export { Decimal };

/**
 * The named place where an exact amount becomes whole minor units. Half a penny goes up (away from zero): rounding to
 * the even neighbour would make the VAT in 9.99 a penny short.
 *
 * @param x an exact amount in minor units
 * @throws RangeError on what is no number, or too large to be kept exactly
 */
export function roundHalfUp(x: Decimal | string): number {
  let exact: Decimal;
  try {
    exact = new Decimal(x);
  } catch {
    throw new RangeError(`"${x}" is not an amount. Write it as digits, such as 12.5.`);
  }
  const rounded = exact.toDecimalPlaces(0, Decimal.ROUND_HALF_UP).toNumber();
  if (!Number.isSafeInteger(rounded)) throw new RangeError('The amount is too large to be kept exactly.');
  return rounded + 0; // + 0: never -0
}

/**
 * quantity * rate, rounded once.
 *
 * @param quantity  any unit
 * @param rateMinor minor units per one of that unit, as a decimal string
 * @returns whole minor units
 */
export function amountMinor(quantity: string | number, rateMinor: string): number {
  let exact: Decimal;
  try {
    exact = new Decimal(quantity).times(rateMinor);
  } catch {
    throw new RangeError('Quantity and rate must be numbers, such as 12.5.');
  }
  return roundHalfUp(exact);
}

/**
 * Splits a sum of money by weights so that the parts add up to it exactly (largest remainder, Hamilton 1792).
 *
 * @param totalMinor whole minor units, of either sign
 * @param weights    one per part, whole (mm³, grams, minutes), none negative, at least one above zero
 * @returns whole minor units, one per weight; equal remainders go to the earlier part
 * @throws RangeError on a total or weights outside the above
 */
export function splitExactly(totalMinor: number, weights: readonly number[]): number[] {
  if (!Number.isSafeInteger(totalMinor)) throw new RangeError('The total must be whole minor units.');
  if (!weights.every((w) => Number.isSafeInteger(w) && w >= 0))
    throw new RangeError('Weights must be whole and not negative.');
  const sum = weights.reduce((a, w) => a + BigInt(w), 0n);
  if (sum === 0n) throw new RangeError('At least one weight must be above zero.');

  // BigInt: a float quota can hide a tie, and a tie decides who pays the last penny
  const total = BigInt(Math.abs(totalMinor));
  const quotas = weights.map((w, i) => ({ i, whole: (total * BigInt(w)) / sum, remainder: (total * BigInt(w)) % sum }));
  const left = Number(total - quotas.reduce((a, q) => a + q.whole, 0n));
  const byRemainder = [...quotas].sort(
    (a, b) => Number(b.remainder > a.remainder) - Number(b.remainder < a.remainder) || a.i - b.i,
  );
  const oneMore = new Set(byRemainder.slice(0, left).map((q) => q.i));
  return quotas.map((q) => Math.sign(totalMinor) * (Number(q.whole) + (oneMore.has(q.i) ? 1 : 0)) + 0); // + 0: no part is -0
}

/**
 * Splits a sum of money by weights, part after part: each takes its share of what those before it left, rounded. It adds up like
 * splitExactly, and it is steady: of a larger sum no part gets less. The largest remainder can take a penny of a part away again
 * when a penny is added to the sum, so that somebody who pays bit by bit would once be paid back.
 *
 * @param totalMinor whole minor units, not negative; where it is the sum of the weights, each part gets its weight
 * @param weights    one per part, whole, none negative, at least one above zero
 * @throws RangeError on a total or weights outside the above
 */
export function splitInTurn(totalMinor: number, weights: readonly number[]): number[] {
  if (!Number.isSafeInteger(totalMinor) || totalMinor < 0) throw new RangeError('The total must be whole minor units.');
  if (!weights.every((w) => Number.isSafeInteger(w) && w >= 0))
    throw new RangeError('Weights must be whole and not negative.');
  let left = totalMinor;
  let open = weights.reduce((sum, weight) => sum + weight, 0);
  if (open === 0) throw new RangeError('At least one weight must be above zero.');
  return weights.map((weight) => {
    const part = weight === 0 ? 0 : roundHalfUp(new Decimal(left).times(weight).div(open));
    left -= part;
    open -= weight;
    return part;
  });
}

/**
 * Rounds exact amounts so that the rounded parts add up to the rounded sum (largest remainder; equal ones go to the
 * earlier part). Rounding each by itself would leave a document whose lines miss its total by a penny.
 */
export function roundKeepingTotal(exact: readonly Decimal[]): { totalMinor: number; partsMinor: number[] } {
  const totalMinor = roundHalfUp(exact.reduce((sum, x) => sum.plus(x), new Decimal(0)));
  const parts = exact.map((x, i) => ({ i, floor: roundHalfUp(x.floor()), remainder: x.minus(x.floor()) }));
  const left = totalMinor - parts.reduce((sum, part) => sum + part.floor, 0);
  const byRemainder = [...parts].sort((a, b) => b.remainder.cmp(a.remainder) || a.i - b.i);
  const oneMore = new Set(byRemainder.slice(0, left).map((part) => part.i));
  return { totalMinor, partsMinor: parts.map((part) => part.floor + (oneMore.has(part.i) ? 1 : 0)) };
}

const digits = remember<number>(200);

/** How many digits stand behind the point: 2 for EUR and GBP, 0 for JPY (ISO 4217). */
export function minorDigits(currency: string): number {
  return digits(currency, () => {
    const format = numberFormat('en', { style: 'currency', currency });
    return format.resolvedOptions().maximumFractionDigits ?? 2;
  });
}

/** An amount in the currency's own unit, as a decimal with a point: (1250, 'GBP') is "12.50". */
export function majorUnits(minor: number, currency: string): string {
  const digits = minorDigits(currency);
  return new Decimal(minor).div(new Decimal(10).pow(digits)).toFixed(digits);
}

/**
 * Writes an amount for a person to read: (1250, 'GBP', 'en-GB') is £12.50, and below zero −£12.50 with a true minus.
 *
 * @throws RangeError where the currency or the locale is unknown in form
 */
export function formatMoney(minor: number, currency: string, locale: string): string {
  const major = majorUnits(minor, currency);
  const text = numberFormat(locale, { style: 'currency', currency }).format(major as `${number}`);
  return text.replace('-', '−');
}

/** The same in a sentence, where ".00" says nothing: £12.50, and £12 for a whole number of pounds. Columns of money keep their pence. */
export function formatMoneyInText(minor: number, currency: string, locale: string): string {
  const text = numberFormat(locale, { style: 'currency', currency, trailingZeroDisplay: 'stripIfInteger' });
  return text.format(majorUnits(minor, currency) as `${number}`).replace('-', '−');
}
