import { Decimal, wholeIn } from '../maths/number.js';

/** As what something is sold: so much in its base unit (g, ml, piece), at this price. */
export type Pack = { quantity: number; priceMinor: number };
export type BoughtPack = Pack & { packs: number };

/** The search looks at every multiple of the packs' common measure up to here: 1.25 tonnes in packs of 12.5 kg are 100. */
const MOST_CELLS = 100_000;

/**
 * The cheapest packs that hold at least `need` between them; of equally cheap ones the fewest. Exact (a search over every quantity
 * that the sizes can make) as long as the need is at most 100,000 times their greatest common measure; what is beyond comes in the
 * pack that is cheapest by its unit.
 *
 * @param need  whole base units
 * @param sizes the packs on sale; where there are none, nothing can be bought
 * @returns how many of each size, smallest first; none where nothing is needed
 * @throws RangeError on a quantity or a price that is not whole
 */
export function cheapestPacks(need: number, sizes: readonly Pack[]): BoughtPack[] {
  wholeIn(need, 'What is needed', 0, Number.MAX_SAFE_INTEGER);
  for (const { quantity, priceMinor } of sizes) {
    wholeIn(quantity, 'The quantity of a pack', 1, Number.MAX_SAFE_INTEGER);
    wholeIn(priceMinor, 'The price of a pack in minor units', 0, Number.MAX_SAFE_INTEGER);
  }
  if (need === 0 || sizes.length === 0) return [];
  const bySize = [...sizes].sort((a, b) => a.quantity - b.quantity);
  const measure = bySize.reduce((common, { quantity }) => commonMeasure(common, quantity), 0);
  const cheapest = indexOfCheapest(bySize);
  const inBulk = bySize[cheapest] as Pack;
  const beyond = Math.ceil(need / measure) - MOST_CELLS;
  const bulk = beyond > 0 ? Math.ceil((beyond * measure) / inBulk.quantity) : 0;
  const counts = search(Math.ceil(Math.max(0, need - bulk * inBulk.quantity) / measure), bySize, measure);
  counts[cheapest] = (counts[cheapest] ?? 0) + bulk;
  return bySize.map((pack, i) => ({ ...pack, packs: counts[i] ?? 0 })).filter(({ packs }) => packs > 0);
}

/** How many of each size to buy for so many cells, each of one common measure. */
function search(cells: number, sizes: readonly Pack[], measure: number): number[] {
  const cost = new Float64Array(cells + 1); // whole numbers: exact up to 2^53
  const packs = new Int32Array(cells + 1);
  const last = new Int8Array(cells + 1);
  const before = (cell: number, pack: Pack) => Math.max(0, cell - pack.quantity / measure);
  for (let cell = 1; cell <= cells; cell++) {
    cost[cell] = Number.POSITIVE_INFINITY;
    for (const [i, pack] of sizes.entries()) {
      const from = before(cell, pack);
      const [minor, many] = [(cost[from] ?? 0) + pack.priceMinor, (packs[from] ?? 0) + 1];
      if (minor > (cost[cell] ?? 0) || (minor === cost[cell] && many >= (packs[cell] ?? 0))) continue;
      cost[cell] = minor;
      packs[cell] = many;
      last[cell] = i;
    }
  }
  const counts = sizes.map(() => 0);
  for (let cell = cells; cell > 0; ) {
    const i = last[cell] ?? 0;
    counts[i] = (counts[i] ?? 0) + 1;
    cell = before(cell, sizes[i] as Pack);
  }
  return counts;
}

function indexOfCheapest(sizes: readonly Pack[]): number {
  const each = ({ priceMinor, quantity }: Pack) => new Decimal(priceMinor).div(quantity);
  const dearer = (a: Pack, b: Pack) => each(a).gt(each(b));
  return sizes.reduce((best, pack, i) => (dearer(sizes[best] as Pack, pack) ? i : best), 0);
}

/** Euclid, Elements VII.2. */
function commonMeasure(a: number, b: number): number {
  return b === 0 ? a : commonMeasure(b, a % b);
}
