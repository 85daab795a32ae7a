import { type DrawPlan, drawPlanOf } from '../src/trade/stock/demand.js';
import { type StockOnHand, stockOutlook } from '../src/trade/stock/outlook.js';
import { mostOpenUnits } from '../src/trade/stock/total-draws.js';
import { figure } from './figures.js';
import { compare, median, sameWithin } from './measure.js';
import { shelfOfAYear } from './year.js';

/** What follows from the definition, to the unit: for each day the chances of all that is drawn by then, convolved from nothing. */
function dayByDayFromNothing({ onHand, demands }: StockOnHand): number[] {
  const drawings = demands.map(drawPlanOf);
  const days = [...new Set(drawings.flatMap(({ days }) => [...days]))].sort();
  return days.map((day) => {
    const total = drawings.reduce<number[]>((sum, drawing) => convolved(sum, drawing, day), [1]);
    return total.reduce((chance, p, units) => (units > onHand ? chance + p : chance), 0);
  });
}

function convolved(total: readonly number[], { chances, unitsBy }: DrawPlan, day: string): number[] {
  const unitsOf = unitsBy(day);
  const sum = new Array<number>(total.length + (unitsOf.at(-1) ?? 0)).fill(0);
  for (const [more, chance] of chances.entries()) {
    const units = unitsOf[more] ?? 0;
    for (const [i, p] of total.entries()) sum[i + units] = (sum[i + units] ?? 0) + chance * p;
  }
  return sum;
}

/** As many cells as ours has for all that is open. */
const CELLS = 2048;

/**
 * What a competent person would do: the same chances in cells as fine as ours. Who is over is added to the total once, those under way
 * are added up anew for each day, outcome by outcome. No packs, no worst cases, no needs.
 */
function dayByDayInCells({ onHand, demands }: StockOnHand): number[] {
  const drawings = demands.map(drawPlanOf);
  const days = [...new Set(drawings.flatMap(({ days }) => [...days]))].sort();
  const step = Math.max(1, Math.ceil(mostOpenUnits(drawings) / CELLS));
  let over: Cells = { known: 0, cells: [1] };
  let left = drawings;
  return days.map((day) => {
    over = left.filter(({ last }) => last <= day).reduce((total, one) => added(total, one, day, step), over);
    left = left.filter(({ last }) => last > day);
    const going = left.filter(({ first }) => first <= day);
    const now = going.reduce((total, one) => added(total, one, day, step), { known: 0, cells: [1] } as Cells);
    const most = Math.floor((onHand - over.known - now.known) / step);
    return chanceAbove(over.cells, now.cells, most);
  });
}

/** Chances of cells from 0 on; `known` is what is certain. */
type Cells = { known: number; cells: number[] };

function added({ known, cells }: Cells, { chances, unitsBy }: DrawPlan, day: string, step: number): Cells {
  const units = unitsBy(day);
  if (chances.length === 1) return { known: known + (units[0] ?? 0), cells };
  const sum = new Array<number>(cells.length + Math.ceil((units.at(-1) ?? 0) / step)).fill(0);
  for (const [more, chance] of chances.entries()) {
    const [place, beyond] = [Math.floor((units[more] ?? 0) / step), ((units[more] ?? 0) % step) / step];
    for (const [i, p] of cells.entries()) {
      sum[i + place] = (sum[i + place] ?? 0) + chance * (1 - beyond) * p;
      if (beyond > 0) sum[i + place + 1] = (sum[i + place + 1] ?? 0) + chance * beyond * p;
    }
  }
  return { known, cells: sum };
}

function chanceAbove(large: readonly number[], small: readonly number[], most: number): number {
  const tail = [...large, 0];
  for (let i = large.length - 1; i >= 0; i--) tail[i] = (tail[i] ?? 0) + (tail[i + 1] ?? 0);
  return small.reduce((sum, p, i) => sum + p * (tail[Math.max(0, most + 1 - i)] ?? 0), 0);
}

/** A small shelf, whose materials are worked out unit by unit in both ways. */
const small = shelfOfAYear(20, { eachUnits: 3 });
const large = shelfOfAYear(200);
const dense = shelfOfAYear(200, { dense: true });

export function outlookBench(): void {
  sameChances(small, dayByDayFromNothing);
  sameChances(large, dayByDayInCells);
  sameChances(dense.slice(0, 20), dayByDayInCells);
  compare(
    'The outlook of 20 materials over 100 courses, in units that both work out exactly',
    { name: 'stockOutlook', run: () => small.map((stock) => stockOutlook(stock)) },
    {
      name: 'chances alone, to the unit: day by day, convolved from nothing',
      run: () => small.map(dayByDayFromNothing),
    },
  );
  const inCells = `chances alone, in ${CELLS} cells as ours: who is over added once, those under way anew each day`;
  compare(
    'The outlook of 200 materials over 12 months of 100 courses',
    { name: 'stockOutlook', run: () => large.map((stock) => stockOutlook(stock)) },
    { name: inCells, run: () => large.map(dayByDayInCells) },
  );
  const { ours, baseline } = compare(
    'The same where each course draws every material',
    { name: 'stockOutlook', run: () => dense.map((stock) => stockOutlook(stock)) },
    { name: inCells, run: () => dense.map(dayByDayInCells) },
  );
  const [now, competent] = [median(ours), median(baseline)].map((ms) => Math.round(ms));
  figure('the dense shelf', `${now} ms; ${competent} for its chances alone as a competent person would`);
}

function sameChances(shelf: readonly StockOnHand[], baseline: (stock: StockOnHand) => number[]): void {
  for (const stock of shelf) {
    const { rows, atMost } = stockOutlook(stock);
    if (atMost) throw new Error('There was no time to work out the chances: what the baseline does is not the same.');
    for (const [i, chance] of baseline(stock).entries())
      sameWithin(1e-9, rows[i]?.shortChance ?? Number.NaN, chance, `The chance on ${rows[i]?.day}`);
  }
}
