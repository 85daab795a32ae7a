import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type DrawPlan, drawPlanOf } from '../../../src/trade/stock/demand.js';
import { type TotalDrawn, totalDrawsBy } from '../../../src/trade/stock/total-draws.js';
import { anyDemand } from '../../support/demands.js';

/** The chances of each total, by its units: all courses added up anew, outcome by outcome. */
function addedUp(drawings: readonly DrawPlan[], day: string): Map<number, number> {
  return drawings.reduce(
    (total, { chances, unitsBy, first }) => {
      const units = first <= day ? unitsBy(day) : [0];
      const sum = new Map<number, number>();
      for (const [before, p] of total)
        for (const [more, n] of units.entries())
          sum.set(before + n, (sum.get(before + n) ?? 0) + p * (units.length === 1 ? 1 : (chances[more] ?? 0)));
      return sum;
    },
    new Map([[0, 1]]),
  );
}

function chancesOf({ known, spread: { large, small } }: TotalDrawn): Map<number, number> {
  const sum = new Map<number, number>();
  for (const [i, p] of large.cells.entries())
    for (const [j, q] of small.cells.entries()) {
      const units = known + large.from + small.from + i + j;
      sum.set(units, (sum.get(units) ?? 0) + p * q);
    }
  return sum;
}

test('what many courses have drawn together by each day is what they come to added up anew', () => {
  fc.assert(
    fc.property(fc.array(anyDemand(8, 3), { minLength: 4, maxLength: 9 }), (demands) => {
      const drawings = demands.map(drawPlanOf);
      const drawnBy = totalDrawsBy(drawings, 1);
      for (const day of [...new Set(drawings.flatMap(({ days }) => days))].sort()) {
        const [ours, anew] = [chancesOf(drawnBy(day)), addedUp(drawings, day)];
        for (const units of new Set([...ours.keys(), ...anew.keys()]))
          expect(ours.get(units) ?? 0, `${units} by ${day}`).toBeCloseTo(anew.get(units) ?? 0, 10);
      }
    }),
  );
});
