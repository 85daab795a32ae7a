import { wholeIn } from '../maths/number.js';
import { Decimal, roundHalfUp, splitExactly } from '../money/money.js';

export const EMPTY_SPACES = ['studio', 'usual', 'spread'] as const;
/**
 * Who bears the room that nobody used: the studio; the pieces, each in proportion; or the pieces as far as the kiln is usually empty,
 * and the studio where it was emptier than that.
 */
export type EmptySpace = (typeof EMPTY_SPACES)[number];

export type FiringToSplit = {
  costMinor: number;
  chamberMm3: number;
  /** what ware usually takes of the chamber in such a firing */
  usualMm3: number;
  pieces: readonly { id: string; volumeMm3: number }[];
  emptySpace: EmptySpace;
};

/** emptyMinor is the part of amountMinor that pays for empty room, 0 where the studio bears it. */
export type Share = { id: string; weightMm3: number; amountMinor: number; emptyMinor: number };

/**
 * Splits a firing's cost by the room that pieces take. Shares and the studio's part add up to the cost exactly.
 * Where the pieces' volumes exceed the chamber (boxes overlap when pots nest) it counts as full: nobody pays twice. At the usual fill a
 * load fuller than usual is shared by its pieces alone, or they would pay more than it cost. A firing without pieces is the studio's.
 *
 * @throws RangeError on a cost or volume that is not whole, or a piece named twice
 */
export function splitFiring(firing: FiringToSplit): { shares: Share[]; studioMinor: number; emptyMm3: number } {
  const { costMinor, chamberMm3, usualMm3, pieces, emptySpace } = firing;
  wholeIn(costMinor, 'The cost of the firing in minor units', 0, Number.MAX_SAFE_INTEGER);
  wholeIn(chamberMm3, 'The volume of the chamber in mm³', 1, 1e11);
  wholeIn(usualMm3, 'The volume that is usually filled in mm³', 1, chamberMm3);
  const volumes = pieces.map(({ volumeMm3 }) => wholeIn(volumeMm3, 'The volume of a piece in mm³', 1, 1e11));
  if (new Set(pieces.map(({ id }) => id)).size < pieces.length) {
    throw new RangeError('A piece is in this firing twice. Take one of the two out.');
  }
  const filledMm3 = volumes.reduce((sum, mm3) => sum + mm3, 0);
  const emptyMm3 = Math.max(0, chamberMm3 - filledMm3);
  if (pieces.length === 0) return { shares: [], studioMinor: costMinor, emptyMm3 };

  const ofStudio = { studio: emptyMm3, usual: Math.max(0, usualMm3 - filledMm3), spread: 0 }[emptySpace];
  const paid = splitExactly(costMinor, [...volumes, ofStudio]);
  const byRoom = splitExactly(costMinor, [...volumes, emptyMm3]);
  const shares = pieces.map(({ id, volumeMm3 }, i) => {
    // a tiny piece may win the odd penny in the one split and lose it in the other: no empty part is below nothing
    const amountMinor = paid[i] ?? 0;
    return { id, weightMm3: volumeMm3, amountMinor, emptyMinor: Math.max(0, amountMinor - (byRoom[i] ?? 0)) };
  });
  return { shares, studioMinor: paid.at(-1) ?? 0, emptyMm3 };
}

/**
 * What of each share of a firing is the owner's time. Both halves add up: all times to `labourMinor`, all that is left to the electricity
 * and wear, and no share has more time in it than it comes to.
 *
 * @param amountsMinor all shares, the studio's among them, whole minor units
 * @param labourMinor  at most their sum
 */
export function timeInShares(amountsMinor: readonly number[], labourMinor: number): number[] {
  const costMinor = amountsMinor.reduce((sum, minor) => sum + minor, 0);
  wholeIn(labourMinor, "The owner's time in minor units", 0, costMinor);
  return costMinor === 0 ? amountsMinor.map(() => 0) : splitExactly(labourMinor, amountsMinor);
}

/**
 * What a course's price counts for the room that was filled in a firing: without the owner's time, which stands in its hours, and at the
 * kiln's usual fill. Above the firing's own cost where the load was fuller than usual.
 *
 * @returns whole minor units, rounded
 */
export function asPricedMinor(electricityAndWearMinor: number, filledMm3: number, usualMm3: number): number {
  return roundHalfUp(new Decimal(electricityAndWearMinor).times(filledMm3).div(usualMm3));
}

/**
 * Shares of a cost that grows with what each needs (layers of a kiln, a hotter firing): each step is paid in equal
 * parts by those who need it. S. C. Littlechild and G. Owen, "A Simple Expression for the Shapley Value in a Special
 * Case", Management Science 20(3), 1973: c1/n + (c2 - c1)/(n - 1) + ...
 *
 * @param costs what it would cost to serve each alone, whole minor units, in any order
 * @returns what each pays, in the order given, as decimals of up to 40 digits: they add up to the greatest cost
 */
export function airportShares(costs: readonly number[]): string[] {
  const ranked = costs
    .map((cost, i) => ({ i, cost: wholeIn(cost, 'A cost in minor units', 0, Number.MAX_SAFE_INTEGER) }))
    .sort((a, b) => a.cost - b.cost);
  const shares = new Array<string>(costs.length).fill('0');
  let share = new Decimal(0);
  let paidFor = 0;
  for (const [rank, { i, cost }] of ranked.entries()) {
    share = share.plus(new Decimal(cost - paidFor).div(costs.length - rank));
    paidFor = cost;
    shares[i] = share.toString();
  }
  return shares;
}
