import { Decimal as Base } from 'decimal.js';

/**
 * Decimal numbers for rates: a float would make 0.1 + 0.2 a wrong price. 40 digits leave room for every step of a sum;
 * no exponents are written, so that a result can go into JSON, SQL and a form as it is.
 */
export const Decimal = Base.clone({ precision: 40, toExpNeg: -60, toExpPos: 60 });
export type Decimal = Base;

/**
 * Reads a decimal that came from outside.
 *
 * @param what names it in the error, with a capital: "Shrinkage in percent"
 * @throws RangeError where it is no plain number, or lies outside min..max
 */
export function decimalIn(value: Decimal | string | number, what: string, min: number, max: number): Decimal {
  const text = typeof value === 'object' ? value.toString() : String(value).trim();
  // the pattern also keeps out what Decimal takes: hexadecimal, "Infinity", "1e999"
  if (!/^[+-]?(\d{1,40}(\.\d{0,60})?|\.\d{1,60})(e[+-]?\d{1,2})?$/i.test(text)) {
    throw new RangeError(`${what} must be a number, such as 12.5.`);
  }
  const number = new Decimal(text);
  if (number.lt(min) || number.gt(max)) throw new RangeError(`${what} must be between ${min} and ${max}.`);
  return number;
}

/**
 * Reads a whole number that came from outside.
 *
 * @throws RangeError where it is not whole, or lies outside min..max
 */
export function wholeIn(value: number, what: string, min: number, max: number): number {
  if (!Number.isSafeInteger(value) || value < min || value > max) {
    throw new RangeError(`${what} must be a whole number between ${min} and ${max}.`);
  }
  return value;
}
