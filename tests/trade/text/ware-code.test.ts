import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { isCode, newCode, normaliseCode } from '../../../src/trade/text/ware-code.js';

const SIGNS = [...'23457ACFHJKMNRTXY'];
const code = fc.integer({ min: 1, max: 400_000_000 }).map(newCode);

describe('ware codes', () => {
  test('are short, differ, and are valid', () => {
    const codes = Array.from({ length: 6000 }, (_, i) => newCode(i + 1));
    expect(new Set(codes).size).toBe(6000);
    expect(codes.every(isCode)).toBe(true);
    expect([codes[0]?.length, codes[4911]?.length, codes[4912]?.length]).toEqual([4, 4, 5]);
  });

  test('stay valid to the last number, and survive being typed', () => {
    fc.assert(
      fc.property(code, (each) => {
        expect(isCode(each)).toBe(true);
        expect(normaliseCode(` ${each.slice(0, 2).toLowerCase()}-${each.slice(2).toLowerCase()} `)).toBe(each);
      }),
    );
    expect(isCode(newCode(400_000_000))).toBe(true);
  });

  test('catch one wrong sign', () => {
    fc.assert(
      fc.property(code, fc.nat(), fc.constantFrom(...SIGNS), (each, at, sign) => {
        const i = at % each.length;
        fc.pre(each[i] !== sign);
        expect(isCode(each.slice(0, i) + sign + each.slice(i + 1))).toBe(false);
      }),
    );
  });

  test('catch two signs swapped, wherever they stand', () => {
    fc.assert(
      fc.property(code, fc.nat(), fc.nat(), (each, a, b) => {
        const signs = [...each];
        const [i, j] = [a % signs.length, b % signs.length];
        fc.pre(signs[i] !== signs[j]);
        [signs[i], signs[j]] = [signs[j] as string, signs[i] as string];
        expect(isCode(signs.join(''))).toBe(false);
      }),
    );
  });

  test('use no sign that clay blurs, and read look-alikes as what was written', () => {
    const used = new Set(Array.from({ length: 5000 }, (_, i) => newCode(i + 1)).join(''));
    expect([...'01689BDEGILOPQSUVWZ'].filter((sign) => used.has(sign))).toEqual([]);
    expect([...used].sort().join('')).toBe(SIGNS.join(''));
    expect(normaliseCode('zs elvw')).toBe('2537AM');
  });

  test('are told from other text', () => {
    for (const text of ['', '2', '222', 'mug', '2222222222', '22é2']) expect(isCode(text)).toBe(false);
    expect(() => newCode(0)).toThrow(/^The running number/);
    expect(() => newCode(1.5)).toThrow(RangeError);
  });
});
