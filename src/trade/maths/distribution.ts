/** Chances of a total: of cell i, which stands for (from + i) * step units, cells[i]. */
export type Distribution = { from: number; cells: Float64Array };

export const NO_UNITS: Distribution = { from: 0, cells: Float64Array.of(1) };

/**
 * The spread of a sum of two independent totals, one of them known by its few outcomes (a convolution).
 * An outcome between two cells is split over both, so that the mean stays exact; each such sum moves an outcome by less than a
 * step. With step 1 and whole outcomes nothing is split and the result is exact. All chances together stay 1 within 1e-12.
 *
 * @param outcomes whole units, and their chances, which add up to 1
 * @param step     units to a cell
 */
export function addOutcomes(
  total: Distribution,
  outcomes: { units: number; chance: number }[],
  step: number,
): Distribution {
  const at = outcomes.map(({ units }) => Math.floor(units / step));
  const least = Math.min(...at);
  const most = Math.max(...outcomes.map(({ units }) => Math.ceil(units / step)));
  const { cells } = total;
  const sum = new Float64Array(cells.length + most - least);
  for (const [k, { units, chance }] of outcomes.entries()) {
    const cell = at[k] ?? 0;
    const beyond = (units - cell * step) / step;
    addSplit(sum, cells, chance * (1 - beyond), chance * beyond, cell - least);
  }
  return { from: total.from + least, cells: sum };
}

/** Adds cells to those that lie so many places higher, each times a chance, and times another one to the next higher. */
function addSplit(sum: Float64Array, cells: Float64Array, here: number, next: number, shift: number): void {
  let before = 0;
  for (let i = 0; i < cells.length; i++) {
    const cell = cells[i] ?? 0;
    sum[i + shift] = (sum[i + shift] ?? 0) + here * cell + next * before;
    before = cell;
  }
  if (next > 0) sum[cells.length + shift] = (sum[cells.length + shift] ?? 0) + next * before;
}

/** A total known to the unit; where that lies between two cells, it is split over both. */
export function distributionAt(units: number, step: number): Distribution {
  return addOutcomes(NO_UNITS, [{ units, chance: 1 }], step);
}

/** The sum of two independent totals, kept apart: what is asked of it needs no convolution of the two. */
export type TwoTotals = { large: Distribution; small: Distribution };

/**
 * The chance that the sum of both comes to more than so many units: over each outcome of the small one, the chance that the large
 * one fills the rest. Exact, and added up from the far end, where the small chances are.
 */
export function chanceAbove({ large, small }: TwoTotals, units: number, step: number): number {
  return Math.min(1, chanceFrom(large, small, Math.floor(units / step) + 1));
}

/** The least units that the sum of both passes with a chance of at most `chance`: by halving, since the chance only falls. */
export function unitsPassedWith({ large, small }: TwoTotals, chance: number, step: number): number {
  let reached = large.from + small.from;
  let beyond = reached + large.cells.length + small.cells.length - 1;
  while (beyond - reached > 1) {
    const half = Math.floor((reached + beyond) / 2);
    if (chanceFrom(large, small, half) > chance) reached = half;
    else beyond = half;
  }
  return reached * step;
}

/** The most units that the sum of both can come to. */
export const mostUnits = ({ large, small }: TwoTotals, step: number): number =>
  (large.from + small.from + large.cells.length + small.cells.length - 2) * step;

/** The chance that the sum of both lies in this cell or beyond it. */
function chanceFrom(large: Distribution, small: Distribution, cell: number): number {
  const tail = tailOf(large);
  let chance = 0;
  for (let i = small.cells.length - 1; i >= 0; i--) {
    const needed = cell - small.from - i - large.from;
    const reaches = needed <= 0 ? (tail[0] ?? 0) : (tail[needed] ?? 0);
    chance += (small.cells[i] ?? 0) * reaches;
  }
  return chance;
}

const tails = new WeakMap<Float64Array, Float64Array>();

/** For each cell the chance of it and all beyond it; reckoned once, since many days ask the same total. */
function tailOf({ cells }: Distribution): Float64Array {
  const known = tails.get(cells);
  if (known) return known;
  const tail = new Float64Array(cells.length);
  let sum = 0;
  for (let i = cells.length - 1; i >= 0; i--) {
    sum += cells[i] ?? 0;
    tail[i] = sum;
  }
  tails.set(cells, tail);
  return tail;
}
