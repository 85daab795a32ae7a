import { Decimal, splitExactly } from './money.js';
import { wholeIn } from './number.js';

/** Who bears the room that stood empty: the studio, or the pieces, each in proportion. */
export type EmptySpace = 'studio' | 'spread';

export type FiringToSplit = {
  costMinor: number;
  chamberMm3: number;
  pieces: readonly { id: string; volumeMm3: number }[];
  emptySpace: EmptySpace;
};

/** emptyMinor is the part of amountMinor that pays for empty room, 0 where the studio bears it. */
export type Share = { id: string; weightMm3: number; amountMinor: number; emptyMinor: number };

/**
 * Splits a firing's cost by the room that pieces take. Shares and the studio's part add up to the cost exactly.
 * Where the pieces' volumes exceed the chamber (boxes overlap when pots nest) it counts as full: nobody pays twice.
 * A firing without pieces is the studio's.
 *
 * @throws RangeError on a cost or volume that is not whole, or a piece named twice
 */
export function splitFiring(firing: FiringToSplit): { shares: Share[]; studioMinor: number; emptyMm3: number } {
  const { costMinor, pieces, emptySpace } = firing;
  wholeIn(costMinor, 'The cost of the firing in minor units', 0, Number.MAX_SAFE_INTEGER);
  wholeIn(firing.chamberMm3, 'The volume of the chamber in mm³', 1, 1e11);
  const volumes = pieces.map(({ volumeMm3 }) => wholeIn(volumeMm3, 'The volume of a piece in mm³', 1, 1e11));
  if (new Set(pieces.map(({ id }) => id)).size < pieces.length) {
    throw new RangeError('A piece stands twice in this firing. Take one of the two out.');
  }
  const emptyMm3 = Math.max(0, firing.chamberMm3 - volumes.reduce((sum, mm3) => sum + mm3, 0));
  if (pieces.length === 0) return { shares: [], studioMinor: costMinor, emptyMm3 };

  const byRoom = splitExactly(costMinor, [...volumes, emptyMm3]);
  const paid = emptySpace === 'spread' ? splitExactly(costMinor, volumes) : byRoom.slice(0, -1);
  const shares = pieces.map(({ id, volumeMm3 }, i) => {
    // a tiny piece may win the odd penny in the one split and lose it in the other: no empty part is below nothing
    const amountMinor = paid[i] ?? 0;
    return { id, weightMm3: volumeMm3, amountMinor, emptyMinor: Math.max(0, amountMinor - (byRoom[i] ?? 0)) };
  });
  return { shares, studioMinor: emptySpace === 'spread' ? 0 : (byRoom.at(-1) ?? 0), emptyMm3 };
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
