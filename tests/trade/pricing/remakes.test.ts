import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { getReach, LOST_AT, timesMade } from '../../../src/trade/pricing/remakes.js';

const NONE = { making: 0, bisque: 0, glaze: 0, lustre: 0 };

describe('how far pieces get before they are lost', () => {
  test('is assumed until some are', () => {
    expect(getReach(NONE)).toEqual({ making: '100', bisque: '50', glaze: '25', lustre: '0' });
  });

  test('is learnt from those that were, with the assumption as 20 pieces more', () => {
    // 10 + 2, 5 + 6, 5 + 11 and 0 + 1 of 40
    expect(getReach({ making: 2, bisque: 6, glaze: 11, lustre: 1 })).toEqual({
      ...{ making: '100', bisque: '70', glaze: '42.5', lustre: '2.5' },
    });
    expect(Number(getReach({ ...NONE, making: 1_000_000 }).bisque)).toBeLessThan(0.01);
  });

  test('never grows from one stage to the next', () => {
    const count = fc.nat(500);
    fc.assert(
      fc.property(fc.record({ making: count, bisque: count, glaze: count, lustre: count }), (losses) => {
        const reach = getReach(losses);
        const percents = LOST_AT.map((at) => Number(reach[at]));
        expect(percents).toEqual([...percents].sort((a, b) => b - a));
      }),
    );
  });
});

describe('what is made again', () => {
  test('costs what it had got to', () => {
    // of 100 pieces wanted 15 more are made; half of them crack while they dry, a quarter each in bisque and glaze firing
    const { making, bisque, glaze, lustre } = getReach(NONE);
    expect(timesMade('15', making).toFixed()).toBe('1.15');
    expect(timesMade('15', bisque).toFixed()).toBe('1.075');
    expect(timesMade('15', glaze).toFixed()).toBe('1.0375');
    expect(timesMade('15', lustre).toFixed()).toBe('1');
    expect(() => timesMade('15', '101')).toThrow(/get so far/);
  });
});
