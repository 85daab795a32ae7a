import { expect, test } from 'vitest';
import { fifoDraw, remainingValueMinor } from '../../src/trade/stock.js';

test('first in, first out, as book-keeping teaches it', () => {
  // Common practice: an exercise of the usual kind, written for this test, with no published source.
  // 100 units at 10.00, then 200 at 11.00; 150 are used: 100 at 10.00 and 50 at 11.00 make 1,550.00; 1,650.00 are left.
  const lots = [
    { id: 'opening', quantity: 100, drawn: 0, costMinor: 100_000 },
    { id: 'delivery', quantity: 200, drawn: 0, costMinor: 220_000 },
  ];
  const { draws, shortBy } = fifoDraw(lots, 150);
  expect(draws).toEqual([
    { lotId: 'opening', quantity: 100, costMinor: 100_000 },
    { lotId: 'delivery', quantity: 50, costMinor: 55_000 },
  ]);
  expect(shortBy).toBe(0);
  const left = lots.map((lot, i) => ({ ...lot, drawn: draws[i]?.quantity ?? 0 }));
  expect(left.reduce((sum, lot) => sum + remainingValueMinor(lot), 0)).toBe(165_000);
});
