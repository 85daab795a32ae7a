import { addTimes, type Distribution, inCells, NO_UNITS, sumOf } from '../maths/distribution.js';
import type { DrawPlan } from './demand.js';

/** The end of a day at which the past matters for what follows, in cells of what has gone from the shelf by then. */
export type Gate = {
  day: string;
  /** what has gone beyond this has made the shelf run short: it goes no further */
  most: number;
  /** at least so much is gone from then on: drawn, or past its last day of use; between two cells it is split over both */
  least: number;
};

/** What has gone, in cells, where the shelf has not run short at any gate; and the chance that it has. */
export type Survivors = { gone: Distribution; fallen: number };

/** How many cells may still be added to others, in all and by one look back; below zero it is given up. */
export type WorkBudget = { left: number; mostAtOnce: number };
export class TooMuchWork extends Error {}

/** A grid of more cells than this is too much: 16 MB. */
const MOST_CELLS = 2 ** 21;
/** Chances below this are dropped: all cells of a grid together lose less than the precision of a float. */
const NEGLIGIBLE = 1e-18;

/**
 * What those who begin by the last gate have drawn by a day, given that the shelf has not run short at any gate. One count of
 * students governs all that a course draws, so that what was drawn before a gate tells of what is drawn after it. For each stretch
 * between gates we therefore keep the joint chances of what has gone so far and of what those under way will draw in each stretch to
 * come: a forward pass that keeps only survivors, exact in cells.
 *
 * @param end    the last gate's day or later
 * @param gates  one or more, in the order of their days
 * @param before what had gone before anything is drawn
 * @param open   courses whose number of students is not known yet
 * @throws TooMuchWork where so many courses lie across so many gates that it would take too long
 */
export function survivorsBy(
  end: string,
  gates: readonly Gate[],
  { before, open, step, work }: { before: Distribution; open: readonly DrawPlan[]; step: number; work: WorkBudget },
): Survivors {
  const ends = [...gates.map(({ day }) => day), end];
  const [firstGate = '', lastGate = ''] = [gates[0]?.day, gates.at(-1)?.day];
  const over = goneBy(firstGate, before, open, step, work);
  const courses = open
    .filter(({ first, last }) => first <= lastGate && last > firstGate)
    .map((drawing) => ({ begins: ends.findIndex((day) => drawing.first <= day), ways: waysOf(drawing, ends, step) }));
  let grid: Grid = { from: NO_UNITS.from, levels: 1, sizes: ends.map(() => 1), cells: NO_UNITS.cells };
  const leastLeft = Math.max(0, work.left - work.mostAtOnce);
  let fallen = 0;
  for (const s of ends.keys()) {
    const begun = courses.filter(({ begins }) => begins <= s);
    const sizes = ends.map((_, stretch) => 1 + begun.reduce((sum, { ways }) => sum + mostIn(ways, stretch), 0));
    const beginning = begun.filter(({ begins }) => begins === s).map(({ ways }) => ways);
    const room = beginning.reduce((sum, ways) => sum + mostIn(ways, s), 0);
    const entered = enter(grid, s, gates[s - 1] ?? NO_GATE, { sizes, room });
    grid = entered.grid;
    fallen += entered.fallen;
    work.left -= grid.cells.length;
    for (const ways of beginning) addCourse(grid, ways, s, work);
    if (s === 0) grid = withThoseOver(grid, over, work);
    if (work.left < leastLeft) throw new TooMuchWork();
  }
  return { gone: grid, fallen };
}

/** What is drawn by the first gate by those who are over by then: of them nothing is still to come, so they need no grid. */
function goneBy(firstGate: string, before: Distribution, open: readonly DrawPlan[], step: number, work: WorkBudget) {
  return open
    .filter(({ last }) => last <= firstGate)
    .reduce((total, { chances, unitsBy }) => {
      const drawn = unitsBy(firstGate).map((units, more) => ({ units, chance: chances[more] ?? 0 }));
      work.left -= total.cells.length * drawn.length;
      return sumOf(total, inCells(drawn, step));
    }, before);
}

/** As many cells are added to at one go (distribution.ts). */
const AT_ONCE = 4;

/** The grid with what is drawn by those who are over; they come last, so that the few under way are added up in a small grid. */
function withThoseOver(grid: Grid, over: Distribution, work: WorkBudget): Grid {
  const rows = grid.cells.length / grid.levels;
  const levels = grid.levels + over.cells.length - 1;
  if (rows * levels > MOST_CELLS) throw new TooMuchWork();
  const cells = new Float64Array(rows * levels);
  work.left -= cells.length;
  for (let row = 0; row < rows; row++) {
    const own = grid.cells.subarray(row * grid.levels, (row + 1) * grid.levels);
    work.left -=
      (over.cells.length * own.reduce((count, chance) => count + (chance < NEGLIGIBLE ? 0 : 1), 0)) / AT_ONCE;
    if (work.left < 0) throw new TooMuchWork();
    addTimes(cells, row * levels, over.cells, own);
  }
  return { ...grid, from: grid.from + over.from, levels, cells };
}

/** One way in which a course may go: cells that it draws in each stretch. */
type Way = { chance: number; cells: number[] };

/**
 * The joint chances within a stretch. A cell's place says how much has gone, `from` that many on, and, as further digits of one
 * number, how much is still to be drawn in each later stretch by those under way.
 */
type Grid = { from: number; levels: number; sizes: readonly number[]; cells: Float64Array };

const NO_GATE = { most: Number.POSITIVE_INFINITY, least: Number.NEGATIVE_INFINITY };

/**
 * What a course draws in each stretch, for each number of students. All ends are rounded by one and the same throw of a die, so that
 * the total by each is the cell below or above, its mean exact, and never falls. With step 1 nothing is rounded.
 */
function waysOf({ chances, unitsBy }: DrawPlan, ends: readonly string[], step: number): Way[] {
  const unitsByEnd = ends.map(unitsBy);
  return chances.flatMap((chance, more) => {
    const units = unitsByEnd.map((of) => of[more] ?? 0);
    const throws = [...new Set([0, ...units.map((n) => (step - (n % step)) % step)])].sort((a, b) => a - b);
    return throws.map((thrown, i) => {
      const by = units.map((n) => Math.floor((n + thrown) / step));
      const cells = by.map((cell, s) => cell - (by[s - 1] ?? 0));
      return { chance: (chance * ((throws[i + 1] ?? step) - thrown)) / step, cells };
    });
  });
}

const mostIn = (ways: readonly Way[], stretch: number): number =>
  ways.reduce((most, { cells }) => Math.max(most, cells[stretch] ?? 0), 0);

/** How far apart cells are that differ by one in what is drawn in each stretch after this one. */
function placesOf({ levels, sizes }: Pick<Grid, 'levels' | 'sizes'>, stretch: number): number[] {
  let place = levels;
  return sizes.map((size, s) => {
    if (s <= stretch) return 0;
    const here = place;
    place *= size;
    return here;
  });
}

/** Through a gate into the next stretch: what fails is left behind, and what is drawn in the stretch by those under way is drawn. */
function enter(
  old: Grid,
  stretch: number,
  { most, least }: Omit<Gate, 'day'>,
  next: { sizes: number[]; room: number },
) {
  const from = Math.max(old.from, Math.min(Math.floor(least), most));
  const high = Math.min(most, Math.max(old.from + old.levels - 1, Math.ceil(least)));
  const levels = Math.max(1, high - from + 1) + (old.sizes[stretch] ?? 1) - 1 + next.room;
  const length = next.sizes.slice(stretch + 1).reduce((product, size) => product * size, levels);
  if (length > MOST_CELLS) throw new TooMuchWork();
  const cells = new Float64Array(length);
  const places = placesOf({ levels, sizes: next.sizes }, stretch);
  const add = (at: number, chance: number) => {
    cells[at] = (cells[at] ?? 0) + chance;
  };
  let fallen = 0;
  for (let i = 0; i < old.cells.length; i++) {
    const chance = old.cells[i] ?? 0;
    if (chance < NEGLIGIBLE) continue;
    const gone = old.from + (i % old.levels);
    if (gone > most) {
      fallen += chance;
      continue;
    }
    let digits = Math.floor(i / old.levels);
    let at = -from;
    for (let s = stretch; digits > 0; s++) {
      const size = old.sizes[s] ?? 1;
      at += (digits % size) * (s === stretch ? 1 : (places[s] ?? 0));
      digits = Math.floor(digits / size);
    }
    if (gone >= least) add(at + gone, chance);
    else {
      const over = least - Math.floor(least);
      add(at + Math.floor(least), chance * (1 - over));
      if (over > 0) add(at + Math.ceil(least), chance * over);
    }
  }
  return { grid: { from, levels, sizes: next.sizes, cells }, fallen };
}

/** Adds what a course draws; it begins in this stretch. From the far end on, so that no cell is added to before it is read. */
function addCourse(grid: Grid, ways: readonly Way[], stretch: number, work: WorkBudget): void {
  const { cells } = grid;
  const places = placesOf(grid, stretch);
  const up = ways.map((way) => way.cells.reduce((sum, n, s) => sum + n * (s === stretch ? 1 : (places[s] ?? 0)), 0));
  const chances = ways.map(({ chance }) => chance);
  for (let i = cells.length - 1; i >= 0; i--) {
    const here = cells[i] ?? 0;
    if (here === 0) continue;
    cells[i] = 0;
    if (here < NEGLIGIBLE) continue;
    work.left -= ways.length;
    for (let way = 0; way < up.length; way++) {
      const at = i + (up[way] ?? 0);
      cells[at] = (cells[at] ?? 0) + here * (chances[way] ?? 0);
    }
  }
}
