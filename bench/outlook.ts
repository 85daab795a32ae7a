import { type DrawPlan, drawPlanOf } from '../src/trade/stock/demand.js';
import { type OutlookRow, type StockOnHand, stockOutlook } from '../src/trade/stock/outlook.js';
import { compare, sameWithin } from './measure.js';
import { shelfOfAYear } from './year.js';

/** Naive: for each day the chances of all that is drawn by then, convolved from nothing, unit by unit. */
function dayByDayFromNothing({ onHand, demands }: StockOnHand): number[] {
  const drawings = demands.map(drawPlanOf);
  const days = [...new Set(drawings.flatMap(({ days }) => [...days]))].sort();
  return days.map((day) => {
    const total = drawings.reduce<number[]>((sum, drawing) => convolved(sum, drawing, day), [1]);
    return total.reduce((chance, p, units) => (units > onHand ? chance + p : chance), 0);
  });
}

function convolved(total: readonly number[], { chances, unitsBy }: DrawPlan, day: string): number[] {
  const sum = new Array<number>(total.length + unitsBy(day, chances.length - 1)).fill(0);
  for (const [more, chance] of chances.entries()) {
    const units = unitsBy(day, more);
    for (const [i, p] of total.entries()) sum[i + units] = (sum[i + units] ?? 0) + chance * p;
  }
  return sum;
}

const THROWS = 1000;

/** Naive too: a thousand years thrown by dice, each course with a number of students; off by up to 3 % on each chance. */
function thrown({ onHand, demands }: StockOnHand): number[] {
  const drawings = demands.map(drawPlanOf);
  const days = [...new Set(drawings.flatMap(({ days }) => [...days]))].sort();
  const short = days.map(() => 0);
  for (let year = 0; year < THROWS; year++) {
    const students = drawings.map(({ chances }) => oneOf(chances));
    for (const [i, day] of days.entries())
      if (drawings.reduce((sum, { unitsBy }, of) => sum + unitsBy(day, students[of] ?? 0), 0) > onHand)
        short[i] = (short[i] ?? 0) + 1;
  }
  return short.map((times) => times / THROWS);
}

function oneOf(chances: readonly number[]): number {
  let left = Math.random();
  for (const [more, chance] of chances.entries()) {
    left -= chance;
    if (left < 0) return more;
  }
  return chances.length - 1;
}

/** A small shelf, whose materials are reckoned unit by unit in both ways. */
const small = shelfOfAYear(20, { eachUnits: 3 });
const large = shelfOfAYear(200);

export function outlookBench(): void {
  for (const stock of small) {
    const rows: OutlookRow[] = stockOutlook(stock).rows;
    for (const [i, chance] of dayByDayFromNothing(stock).entries())
      sameWithin(1e-9, rows[i]?.shortChance ?? Number.NaN, chance, `The chance on ${rows[i]?.day}`);
  }
  compare(
    'The outlook of 20 materials over 100 courses, in units that both reckon exactly',
    { name: 'stockOutlook', run: () => small.map(stockOutlook) },
    { name: 'day by day, convolved from nothing', run: () => small.map(dayByDayFromNothing) },
  );
  compare(
    'The outlook of 200 materials over 12 months of 100 courses',
    { name: 'stockOutlook', run: () => large.map(stockOutlook) },
    { name: `${THROWS} years thrown by dice, chances alone`, run: () => large.map(thrown) },
  );
}
