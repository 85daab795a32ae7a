import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { fifoDraw, type Lot, remainingValueMinor } from '../../src/trade/stock.js';

const sum = (numbers: readonly number[]) => numbers.reduce((a, b) => a + b, 0);
const lot = (id: string, quantity: number, costMinor: number, drawn = 0): Lot => ({ id, quantity, drawn, costMinor });

/** Draws, and enters the draws on the lots, as the books would. */
function drawn(lots: Lot[], quantity: number) {
  const result = fifoDraw(lots, quantity);
  const after = lots.map((each) => {
    const of = result.draws.find((draw) => draw.lotId === each.id);
    return { ...each, drawn: each.drawn + (of?.quantity ?? 0) };
  });
  return { ...result, after };
}

describe('first in, first out', () => {
  test('empties the oldest lot first', () => {
    const lots = [lot('march', 12_500, 1875, 12_000), lot('april', 12_500, 2000)];
    expect(fifoDraw(lots, 1500)).toEqual({
      draws: [
        { lotId: 'march', quantity: 500, costMinor: 75 },
        { lotId: 'april', quantity: 1000, costMinor: 160 },
      ],
      shortBy: 0,
    });
  });

  test('says what the books do not hold', () => {
    expect(fifoDraw([lot('march', 100, 50, 100), lot('april', 10, 5)], 25)).toEqual({
      draws: [{ lotId: 'april', quantity: 10, costMinor: 5 }],
      shortBy: 15,
    });
    expect(fifoDraw([], 3)).toEqual({ draws: [], shortBy: 3 });
    expect(fifoDraw([lot('april', 10, 5)], 0)).toEqual({ draws: [], shortBy: 0 });
  });

  test('keeps the value: what was paid is what was drawn and what is left, after any draws', () => {
    const anyLots = fc
      .array(fc.tuple(fc.integer({ min: 0, max: 30_000 }), fc.integer({ min: 0, max: 1_000_000 })), { maxLength: 6 })
      .map((all) => all.map(([quantity, cost], i) => lot(`${i}`, quantity, quantity === 0 ? 0 : cost)));
    fc.assert(
      fc.property(anyLots, fc.array(fc.integer({ min: 0, max: 20_000 }), { maxLength: 25 }), (bought, wanted) => {
        const paid = sum(bought.map(({ costMinor }) => costMinor));
        let lots = bought;
        let spent = 0;
        for (const quantity of wanted) {
          const result = drawn(lots, quantity);
          expect(sum(result.draws.map((draw) => draw.quantity)) + result.shortBy).toBe(quantity);
          expect(result.draws.every((draw) => draw.costMinor >= 0)).toBe(true);
          spent += sum(result.draws.map((draw) => draw.costMinor));
          lots = result.after;
          expect(spent + sum(lots.map(remainingValueMinor))).toBe(paid);
        }
        const emptied = drawn(lots, 1e9);
        expect(spent + sum(emptied.draws.map((draw) => draw.costMinor))).toBe(paid);
      }),
    );
  });

  test('refuses lots and quantities that cannot be', () => {
    expect(() => fifoDraw([lot('march', 10, 5)], 1.5)).toThrow(/^The quantity to draw/);
    expect(() => fifoDraw([lot('march', 10, 5)], -1)).toThrow(/^The quantity to draw/);
    expect(() => fifoDraw([lot('march', 10, 5, 11)], 1)).toThrow(/^What was drawn from a lot/);
    expect(() => remainingValueMinor(lot('march', 10, 0.5))).toThrow(/^The cost of a lot/);
  });
});
