import { mostUnits } from '../maths/distribution.js';
import { type ShelfDay, type ShelfState, shortBy } from './shortage.js';
import type { Precision } from './work-limit.js';

type Order = {
  days: readonly ShelfDay[];
  /** as stockStatesByDay gives them, for these days */
  states: readonly ShelfState[];
  by: Precision;
  /** the day from which on the packs are there; on the days before it they count for nothing */
  from: string;
  packQuantity: number;
  /** the chance of running short must be less than this, and is so before `from` */
  under: number;
};

/** The fewest packs that bring the chance of running short over all days under some chance. What is bought now keeps. */
export function fewestPacks({ days, states, by, from, packQuantity, under }: Order): number {
  const first = days.findIndex(({ day }) => day >= from);
  const earlier = ends(days.slice(0, first), states);
  const { end: start } = shortBy(earlier.days, earlier.states, by, { rises: true });
  const later = ends(days.slice(first), states.slice(first));
  const shortWith = (packs: number) => {
    const fuller = later.days.map((day) => ({ ...day, come: day.come + packs * packQuantity }));
    return shortBy(fuller, later.states, by, { start }).end.short;
  };
  const missing = later.days.map(({ come }, i) => mostGone(later.states[i] as ShelfState, by) - come);
  let few = 0;
  let many = Math.ceil(Math.max(1, ...missing) / packQuantity);
  while (many - few > 1) {
    const half = Math.floor((few + many) / 2);
    if (shortWith(half) < under) many = half;
    else few = half;
  }
  return many;
}

/** Of these days those that say it all: the last of each stretch without deliveries, and those on which something spoils. */
function ends(days: readonly ShelfDay[], states: readonly ShelfState[]) {
  const places = days.flatMap(({ come, spoilt }, i) => (spoilt > 0 || days[i + 1]?.come !== come ? [i] : []));
  return { days: places.map((i) => days[i] as ShelfDay), states: places.map((i) => states[i] as ShelfState) };
}

const mostGone = ({ drawn, gone }: ShelfState, { step }: Precision): number => drawn.known + mostUnits(gone, step);
