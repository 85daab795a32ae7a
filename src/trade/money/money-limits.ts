import { wholeIn } from '../maths/number.js';

/** The most that any one sum or rate may be, in minor units. */
export const MAX_MINOR = 1_000_000_000;

/**
 * Reads a sum that came from outside.
 *
 * @param what names it in the error, with a capital: "The second tutor's fee"
 * @returns whole minor units
 * @throws RangeError where it is not whole, below nothing or beyond all sense
 */
export function parseMinor(minor: number, what: string): number {
  return wholeIn(minor, `${what}, in minor units,`, 0, MAX_MINOR);
}
