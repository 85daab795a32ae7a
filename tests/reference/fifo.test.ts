import { expect, test } from 'vitest';
import { fifoDraw, remainingValueMinor, type StockLot } from '../../src/trade/stock/fifo.js';

/** Draws as the books do, and keeps the lots as they then are. */
function shelf(lots: StockLot[]) {
  return {
    lots,
    use(quantity: number) {
      const { draws, shortBy } = fifoDraw(lots, quantity);
      for (const { lotId, quantity } of draws) {
        const lot = lots.find(({ id }) => id === lotId);
        if (lot) lot.drawn += quantity;
      }
      expect(shortBy).toBe(0);
      return draws.map(({ quantity, costMinor }) => [quantity, costMinor / 100]);
    },
    left: () => lots.map((lot) => remainingValueMinor(lot) / 100).filter((worth) => worth > 0),
  };
}
const lot = (id: string, quantity: number, each: number): StockLot => ({
  id,
  quantity,
  drawn: 0,
  costMinor: quantity * each * 100,
});

// Published: "Ex 7-6, perpetual inventory using FIFO", a textbook exercise with its answer,
// https://accountingqanda.blogspot.com/2019/01/ex-7-6-perpetual-inventory-using-fifo.html. Mark: read, in an excerpt.
test('first in, first out, sale by sale, as a published exercise answers it', () => {
  const { lots, use, left } = shelf([lot('opening', 1550, 44), lot('first', 720, 45)]);
  expect(left()).toEqual([68_200, 32_400]);
  expect(use(1200)).toEqual([[1200, 52_800]]);
  expect(left()).toEqual([15_400, 32_400]);
  expect(use(830)).toEqual([
    [350, 15_400],
    [480, 21_600],
  ]);
  expect(left()).toEqual([10_800]);
  lots.push(lot('second', 1200, 48));
  expect(left()).toEqual([10_800, 57_600]);
  expect(use(1000)).toEqual([
    [240, 10_800],
    [760, 36_480],
  ]);
  expect(left()).toEqual([21_120]);
  const sold = 68_200 + 32_400 + 57_600 - 21_120;
  expect(sold).toBe(137_080); // the answer's total of what was sold
});
