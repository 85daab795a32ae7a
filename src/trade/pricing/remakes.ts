import { Decimal, decimalIn, wholeIn } from '../maths/number.js';

/** How far a piece had got when it was lost: before any firing, or in which one (or after it, before the next). */
export const LOST_AT = ['making', 'bisque', 'glaze', 'lustre'] as const;
export type LostAt = (typeof LOST_AT)[number];
/** Pieces lost, by how far they had got. */
export type Losses = Readonly<Record<LostAt, number>>;

/** Where pieces get lost until the studio's own losses tell, in percent of them: our own assumption, nothing published is known. */
const ASSUMED_PERCENT: Losses = { making: 50, bisque: 25, glaze: 25, lustre: 0 };
/** The assumption counts as so many pieces, so that the first ones lost don't decide. */
export const ASSUMED_PIECES = 20;

/** Of the pieces lost, how many had got at least so far: decimal strings in percent; all of them had been made. */
export type Reach = Readonly<Record<LostAt, string>>;

/**
 * How far the pieces of a studio get before they are lost, by those that were, with the assumption counted as some pieces more.
 *
 * @param losses whole numbers
 * @returns percent, six decimals
 */
export function getReach(losses: Losses): Reach {
  const counted = LOST_AT.map((at) => wholeIn(losses[at], 'The pieces lost', 0, 1_000_000_000));
  const pieces = counted.reduce((sum, count) => sum + count, ASSUMED_PIECES);
  const share = (i: number) =>
    new Decimal(ASSUMED_PERCENT[LOST_AT[i] ?? 'making'])
      .times(ASSUMED_PIECES)
      .plus((counted[i] ?? 0) * 100)
      .div(pieces);
  const from = (first: number) =>
    LOST_AT.slice(first).reduce((sum, _, i) => sum.plus(share(first + i)), new Decimal(0));
  const percent = (at: LostAt) => from(LOST_AT.indexOf(at)).toDecimalPlaces(DECIMALS).toFixed();
  return { making: '100', bisque: percent('bisque'), glaze: percent('glaze'), lustre: percent('lustre') };
}

const DECIMALS = 6;

/**
 * How many times over each piece wanted is worked on at a stage: once, and once more for each lost one that had got so far. One that
 * cracks while it dries costs clay alone, one lost in the bisque a bisque as well, one lost in the glaze firing everything.
 *
 * @param remakesPercent made again, of the pieces wanted: decimal string, 0..500
 * @param reachPercent   of those, how many get to the stage: decimal string, 0..100
 */
export function timesMade(remakesPercent: string, reachPercent: string): Decimal {
  const remakes = decimalIn(remakesPercent, 'Remakes in percent', 0, 500);
  const reach = decimalIn(reachPercent, 'How many of what is made again get so far, in percent,', 0, 100);
  return remakes.times(reach).div(10_000).plus(1);
}
