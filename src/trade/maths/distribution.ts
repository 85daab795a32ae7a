/** Chances of a total: of cell i, which stands for (from + i) * step units, cells[i]. */
export type Distribution = { from: number; cells: Float64Array };

export const NO_UNITS: Distribution = { from: 0, cells: Float64Array.of(1) };

/** Of a sum of a hundred, cells at its ends below this are dropped: all together less than the precision of a float. */
const NEGLIGIBLE = 1e-18;

/**
 * The spread of a sum of two independent totals, one of them known by its few outcomes (a convolution).
 * An outcome between two cells is split over both, so that the mean stays exact; each such sum moves an outcome by less than a
 * step. With step 1 and whole outcomes nothing is split and the result is exact. All chances together stay 1 within 1e-12.
 *
 * @param outcomes whole units, and their chances, which add up to 1
 * @param step     units to a cell
 */
export const addOutcomes = (
  total: Distribution,
  outcomes: { units: number; chance: number }[],
  step: number,
): Distribution => sumOf(total, inCells(outcomes, step));

/** A few outcomes in cells, in the order of their units. */
export function inCells(outcomes: readonly { units: number; chance: number }[], step: number): Distribution {
  let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const { units } of outcomes) {
    least = Math.min(least, Math.floor(units / step));
    most = Math.max(most, Math.ceil(units / step));
  }
  const cells = emptyCells(most - least + 1);
  for (const { units, chance } of outcomes) {
    const cell = Math.floor(units / step);
    const beyond = (units - cell * step) / step;
    cells[cell - least] = (cells[cell - least] as number) + chance * (1 - beyond);
    if (beyond > 0) cells[cell - least + 1] = (cells[cell - least + 1] as number) + chance * beyond;
  }
  return { from: least, cells };
}

/** The sum of two independent totals, the second of few cells. */
export function sumOf(total: Distribution, few: Distribution): Distribution {
  const sum = emptyCells(total.cells.length + few.cells.length - 1);
  addTimes(sum, 0, total.cells, few.cells);
  return trimmed(total.from + few.from, sum);
}

/** Adds the sum of two totals to cells, from a place on; of the few those that are negligible are left out. */
export function addTimes(sum: Float64Array, place: number, cells: Float64Array, few: Float64Array): void {
  for (let i = 0; i < few.length; ) {
    if ((few[i] as number) < NEGLIGIBLE) i++;
    else {
      addFour(sum, place + i, cells, few, i);
      i += 4;
    }
  }
}

/**
 * Adds cells to those that lie so many places higher, times a chance, and to the next three, times the next three chances. All four at
 * one go take hardly longer than one.
 */
function addFour(sum: Float64Array, place: number, cells: Float64Array, chances: Float64Array, from: number): void {
  const first = chances[from] as number;
  const second = from + 1 < chances.length ? (chances[from + 1] as number) : 0;
  const third = from + 2 < chances.length ? (chances[from + 2] as number) : 0;
  const fourth = from + 3 < chances.length ? (chances[from + 3] as number) : 0;
  const length = cells.length;
  let [one, two, three] = [0, 0, 0]; // the cells before this one
  let at = place;
  for (let i = 0; i < length; i++, at++) {
    const cell = cells[i] as number;
    sum[at] = (sum[at] as number) + first * cell + second * one + third * two + fourth * three;
    three = two;
    two = one;
    one = cell;
  }
  const more = chances.length - from; // beyond them lies what may be another's
  if (more > 1) sum[at] = (sum[at] as number) + second * one + third * two + fourth * three;
  if (more > 2) sum[at + 1] = (sum[at + 1] as number) + third * one + fourth * two;
  if (more > 3) sum[at + 2] = (sum[at + 2] as number) + fourth * one;
}

function trimmed(from: number, cells: Float64Array): Distribution {
  let start = 0;
  let end = cells.length;
  while (start < end - 1 && (cells[start] as number) < NEGLIGIBLE) start++;
  while (end > start + 1 && (cells[end - 1] as number) < NEGLIGIBLE) end--;
  return { from: from + start, cells: end - start === cells.length ? cells : cells.subarray(start, end) };
}

const BLOCK_BYTES = 2 ** 18;
let block = new ArrayBuffer(0);
let used = 0;

/** So many cells of 0. They are cut from one block after another: a block of its own for each takes longer than what is then added up in it. */
function emptyCells(length: number): Float64Array {
  const bytes = length * Float64Array.BYTES_PER_ELEMENT;
  if (used + bytes > block.byteLength) {
    block = new ArrayBuffer(Math.max(bytes, BLOCK_BYTES));
    used = 0;
  }
  const cells = new Float64Array(block, used, length);
  used += bytes;
  return cells;
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
  const tail = emptyCells(cells.length);
  let sum = 0;
  for (let i = cells.length - 1; i >= 0; i--) {
    sum += cells[i] ?? 0;
    tail[i] = sum;
  }
  tails.set(cells, tail);
  return tail;
}
