import { wholeIn } from '../maths/number.js';
import { checkSignFits, normaliseCode, SIGNS, withCheckSign } from './ware-code.js';

/** Nine signs by chance and one to check them: 118 billion codes, so that nobody hits one that is in use by guessing. */
const BODY = 9;

/**
 * The code of a voucher, in the signs of the ware codes. It is worth money, so it follows from no running number.
 *
 * @param chance gives a whole number from 0 to below what it is asked for, each as likely as the others
 */
export function newVoucherCode(chance: (below: number) => number): string {
  const sign = () => SIGNS.charAt(wholeIn(chance(SIGNS.length), 'A number by chance', 0, SIGNS.length - 1));
  return withCheckSign(Array.from({ length: BODY }, sign).join(''));
}

/** Is this a code, as newVoucherCode writes it? One wrong sign, or two swapped, is always caught. */
export const isVoucherCode = (code: string): boolean => code.length === BODY + 1 && checkSignFits(code);

/** What somebody typed, as a code would be kept: capitals, no spaces or hyphens, look-alikes mended. */
export const normaliseVoucherCode = normaliseCode;

/** As it is printed, in three groups that an eye keeps: "ABC DEFG HIJ". */
export const voucherCodeInWords = (code: string): string => `${code.slice(0, 3)} ${code.slice(3, 7)} ${code.slice(7)}`;
