/** Chances of a total: of cell i, which stands for (from + i) * step units, cells[i]. */
export type Spread = { from: number; cells: Float64Array };

export const NOTHING: Spread = { from: 0, cells: Float64Array.of(1) };

/**
 * The spread of a sum of two independent totals, one of them known by its few outcomes (a convolution).
 * An outcome between two cells is split over both, so that the mean stays exact; each such sum moves an outcome by less than a
 * step. With step 1 and whole outcomes nothing is split and the result is exact. All chances together stay 1 within 1e-12.
 *
 * @param outcomes whole units, and their chances, which add up to 1
 * @param step     units to a cell
 */
export function plusOutcomes(total: Spread, outcomes: { units: number; chance: number }[], step: number): Spread {
  const taps = new Map<number, number>();
  const tap = (cell: number, chance: number) => chance > 0 && taps.set(cell, (taps.get(cell) ?? 0) + chance);
  for (const { units, chance } of outcomes) {
    const cell = Math.floor(units / step);
    const beyond = (units - cell * step) / step;
    tap(cell, chance * (1 - beyond));
    tap(cell + 1, chance * beyond);
  }
  const least = Math.min(...taps.keys());
  const { cells } = total;
  const sum = new Float64Array(cells.length + Math.max(...taps.keys()) - least);
  for (const [cell, chance] of taps) {
    const shift = cell - least;
    for (let i = 0; i < cells.length; i++) sum[i + shift] = (sum[i + shift] ?? 0) + chance * (cells[i] ?? 0);
  }
  return { from: total.from + least, cells: sum };
}

/** The chance of a total above so many units; added up from the far end, where the small chances are. */
export function chanceAbove({ from, cells }: Spread, units: number, step: number): number {
  const last = Math.floor(units / step) - from;
  let chance = 0;
  for (let i = cells.length - 1; i > last && i >= 0; i--) chance += cells[i] ?? 0;
  return Math.min(1, chance);
}

/** The least units that the total passes with a chance of at most `chance`. */
export function passedBy({ from, cells }: Spread, chance: number, step: number): number {
  let above = 0;
  for (let i = cells.length - 1; i >= 0; i--) {
    above += cells[i] ?? 0;
    if (above > chance) return (from + i) * step;
  }
  return from * step;
}

/** The most units that the total can come to. */
export const most = ({ from, cells }: Spread, step: number): number => (from + cells.length - 1) * step;
