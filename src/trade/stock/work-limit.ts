import { TooMuchWork, type WorkBudget } from './survivors.js';

/** How something about all that is open is worked out. */
export type Precision = {
  /** units to a cell */
  step: number;
  /** what is less likely than this isn't looked into: it counts as what it would be at worst */
  overlook: number;
  work: WorkBudget;
};

/** Additions of cells for one try: some tenths of a second. */
export const MOST_WORK = 60_000_000;
/** A try in which one look back takes more than this part of it would not come to its end. */
const PART_OF_WORK = 1 / 8;
/** The chance of something being off (lack of precision of a float) below which it is none. */
export const FLOAT_ERROR = 1e-12;
/** What is overlooked in all, if not more than this, is seen in no digit that is shown. */
export const SEEN = 1e-7;

/** As well as there is time for: in how many cells all that is open is looked at, and what is overlooked. */
const TRIES = [
  { cells: 2048, overlook: 1e-10 },
  { cells: 512, overlook: 1e-10 },
  { cells: 256, overlook: 1e-10 },
  { cells: 512, overlook: 0.001 },
  { cells: 256, overlook: 0.02 },
];

/**
 * Asks something about all that is open, as exactly as there is time for.
 * @param range the most units that are open
 */
export function withinWorkLimit<T>(range: number, mostWork: number, ask: (by: Precision) => T): T {
  const stepOf = (cells: number) => Math.max(1, Math.ceil(range / cells));
  for (const { cells, overlook } of TRIES)
    try {
      const step = stepOf(cells);
      const work = { left: mostWork, mostAtOnce: mostWork * PART_OF_WORK };
      return ask({ step, overlook: step === 1 ? Math.min(overlook, FLOAT_ERROR) : overlook, work });
    } catch (error) {
      if (!(error instanceof TooMuchWork)) throw error;
    }
  // where everything is overlooked there is hardly anything to do
  return ask({
    step: stepOf(2048),
    overlook: 1,
    work: { left: Number.POSITIVE_INFINITY, mostAtOnce: Number.POSITIVE_INFINITY },
  });
}
