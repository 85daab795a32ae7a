import { wholeIn } from '../maths/number.js';

/**
 * Signs that stay apart when they are scratched in clay, filled with glaze, and read from a foot that has no up.
 * Left out are those that become another once slip fills their eye (0 6 8 9 B D G O P Q) and lone strokes (1 I); of
 * signs that blur or turn into each other only one is kept (2 for Z, 5 for S, Y for U and V, 3 for E, 7 for L, M for W).
 * A prime number of signs lets one check sign catch every single mistake.
 */
export const SIGNS = '23457ACFHJKMNRTXY';

/** What a blurred or turned sign can only have been. */
const READ_AS: Record<string, string> = { Z: '2', S: '5', E: '3', L: '7', V: 'A', W: 'M' };

const SHORTEST = 4;
const LONGEST = 8;

/** Weights 1, 2, 3... from the right differ from each other, so that two swapped signs change the sum too. */
function weighted(code: string): number {
  const signs = [...code].reverse();
  return signs.reduce((sum, sign, i) => sum + (i + 1) * SIGNS.indexOf(sign), 0) % SIGNS.length;
}

/**
 * The code of the n-th piece of a studio: four signs for the first 4912, then five; the last one is its check.
 *
 * @param n running number from 1
 * @throws RangeError on a number that is not whole, or beyond 400 million
 */
export function newCode(n: number): string {
  let rest = wholeIn(n, 'The running number of a piece', 1, 400_000_000);
  let body = '';
  while (rest > 0 || body.length < SHORTEST - 1) {
    body = SIGNS.charAt(rest % SIGNS.length) + body;
    rest = Math.floor(rest / SIGNS.length);
  }
  return withCheckSign(body);
}

/** A code from its signs but the last, which is its check. @param body at most 15 signs, or two weights would be alike */
export function withCheckSign(body: string): string {
  const sumWithoutCheck = weighted(body + SIGNS.charAt(0));
  return body + SIGNS.charAt((SIGNS.length - sumWithoutCheck) % SIGNS.length);
}

/** Does the last sign fit the others? One wrong sign, or two swapped, never do. */
export const checkSignFits = (code: string): boolean =>
  [...code].every((sign) => SIGNS.includes(sign)) && weighted(code) === 0;

/** Is this a code, as newCode writes it? */
export const isCode = (code: string): boolean =>
  code.length >= SHORTEST && code.length <= LONGEST && checkSignFits(code);

/** What somebody typed or read off a pot, as a code would be written: capitals, no spaces or hyphens, look-alikes mended. */
export function normaliseCode(typed: string): string {
  const signs = typed.toUpperCase().replace(/[\s-]/g, '');
  return [...signs].map((sign) => READ_AS[sign] ?? sign).join('');
}

/** A code that somebody may have meant, and which sign of what they typed was wrong, counted from 1. */
export type MeantCode = { code: string; wrongSign: number };

/**
 * The codes that differ by one sign from what was typed. Each place can hold only one sign that fits the check, so there are as many
 * as there are signs; those that no piece bears are for the caller to leave out. None where it is a code, or too short or long for one.
 */
export function suggestCodes(typed: string): MeantCode[] {
  const signs = [...normaliseCode(typed)];
  if (signs.length < SHORTEST || signs.length > LONGEST || isCode(signs.join(''))) return [];
  return signs.flatMap((_, i) =>
    [...SIGNS]
      .map((sign) => [...signs.slice(0, i), sign, ...signs.slice(i + 1)].join(''))
      .filter(isCode)
      .map((code) => ({ code, wrongSign: i + 1 })),
  );
}
