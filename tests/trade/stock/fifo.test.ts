import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { fifoDraw, remainingValueMinor, type StockLot, worthOfBackMinor } from '../../../src/trade/stock/fifo.js';

const sum = (numbers: readonly number[]) => numbers.reduce((a, b) => a + b, 0);
const lot = (id: string, quantity: number, costMinor: number, drawn = 0): StockLot => ({
  id,
  quantity,
  drawn,
  costMinor,
});

/** Draws, and enters the draws on the lots, as the books would. */
function drawn(lots: StockLot[], quantity: number) {
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

  test('keeps the value also where things come back at the very cost at which they went', () => {
    const anyLots = fc
      .array(fc.tuple(fc.integer({ min: 1, max: 40 }), fc.integer({ min: 0, max: 120 })), {
        minLength: 1,
        maxLength: 4,
      })
      .map((all) => all.map(([quantity, cost], i) => lot(`${i}`, quantity, cost)));
    const steps = fc.array(fc.tuple(fc.boolean(), fc.integer({ min: 1, max: 25 })), { maxLength: 40 });
    fc.assert(
      fc.property(anyLots, steps, (bought, acts) => {
        const paid = sum(bought.map(({ costMinor }) => costMinor));
        let lots = bought.map((each) => ({ ...each, leftWorthMinor: each.costMinor }));
        let out: { lotId: string; quantity: number; costMinor: number; back: number }[] = [];
        for (const [goes, quantity] of acts) {
          // what comes back is drawn from what went, the last first: the same running sums over the sale's own moves
          const gone = out.map(({ back, ...went }, i) => ({ ...went, drawn: back, id: `${i}` })).reverse();
          const { draws } = fifoDraw(goes ? lots : gone, quantity);
          if (goes) out = [...out, ...draws.map((draw) => ({ ...draw, back: 0 }))];
          else
            out = out.map((went, i) => ({
              ...went,
              back: went.back + sum(draws.filter(({ lotId }) => lotId === `${i}`).map((draw) => draw.quantity)),
            }));
          const sign = goes ? 1 : -1;
          for (const draw of draws) {
            const lotId = goes ? draw.lotId : out[Number(draw.lotId)]?.lotId;
            lots = lots.map((each) =>
              each.id === lotId
                ? {
                    ...each,
                    drawn: each.drawn + sign * draw.quantity,
                    leftWorthMinor: each.leftWorthMinor - sign * draw.costMinor,
                  }
                : each,
            );
          }
          for (const { quantity: had, drawn: used, costMinor, leftWorthMinor } of lots) {
            expect(leftWorthMinor).toBeGreaterThanOrEqual(0);
            expect(leftWorthMinor).toBeLessThanOrEqual(costMinor);
            if (used === had) expect(leftWorthMinor).toBe(0);
            if (used === 0) expect(leftWorthMinor).toBe(costMinor);
          }
          const keptMinor = sum(
            out.map(({ quantity: went, costMinor, back }) => remainingValueMinor(lot('', went, costMinor, back))),
          );
          expect(keptMinor + sum(lots.map(remainingValueMinor))).toBe(paid);
        }
      }),
    );
  });

  test('a draw makes up for the rounding of what was put back before it', () => {
    // three for 10: they cost 3, 4 and 3; the first came back at its 3, so that 6 are left for two
    const left = { ...lot('march', 3, 10, 1), leftWorthMinor: 6 };
    expect(fifoDraw([left], 1).draws).toEqual([{ lotId: 'march', quantity: 1, costMinor: 3 }]);
    expect(fifoDraw([left], 2).draws).toEqual([{ lotId: 'march', quantity: 2, costMinor: 6 }]);
    // 40 for 1: the penny went with a draw that is still out, though the running sum would keep it until the 20th
    const used = { ...lot('may', 40, 1, 5), leftWorthMinor: 0 };
    expect(fifoDraw([used], 3).draws).toEqual([{ lotId: 'may', quantity: 3, costMinor: 0 }]);
  });

  test('refuses lots and quantities that cannot be', () => {
    expect(() => fifoDraw([{ ...lot('march', 10, 5), leftWorthMinor: 6 }], 1)).toThrow(
      /^What is left of a lot is worth/,
    );
    expect(() => fifoDraw([lot('march', 10, 5)], 1.5)).toThrow(/^The quantity to draw/);
    expect(() => fifoDraw([lot('march', 10, 5)], -1)).toThrow(/^The quantity to draw/);
    expect(() => fifoDraw([lot('march', 10, 5, 11)], 1)).toThrow(/^What was used from a lot/);
    expect(() => remainingValueMinor(lot('march', 10, 0.5))).toThrow(/^The cost of a lot/);
  });
});

describe('what comes back of what was drawn', () => {
  test('is worth its mean cost, and all parts together exactly that', () => {
    expect(worthOfBackMinor({ quantity: 3000, costMinor: 301 }, 1000)).toBe(100);
    const part = fc.record({ quantity: fc.integer({ min: 1, max: 5000 }), costMinor: fc.nat(50_000) });
    fc.assert(
      fc.property(part, fc.infiniteStream(fc.integer({ min: 1, max: 900 })), (drawn, sizes) => {
        let [out, worth] = [drawn, 0];
        for (const size of sizes) {
          if (out.quantity === 0) break;
          const back = Math.min(size, out.quantity);
          const minor = worthOfBackMinor(out, back);
          expect(minor).toBeGreaterThanOrEqual(0);
          out = { quantity: out.quantity - back, costMinor: out.costMinor - minor };
          worth += minor;
        }
        expect(worth).toBe(drawn.costMinor);
      }),
    );
  });

  test('is no more than went out', () => {
    expect(() => worthOfBackMinor({ quantity: 5, costMinor: 10 }, 6)).toThrow(/^What comes back must/);
  });
});
