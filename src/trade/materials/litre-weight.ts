import { decimalIn } from '../maths/number.js';
import { roundHalfUp } from '../money/money.js';
import { waterToReachMillilitres } from './glaze.js';

/** What a litre may weigh at all: more than water, and less than twice its densest solids. */
export const LIGHTEST_LITRE_GRAMS = 1001;
export const HEAVIEST_LITRE_GRAMS = 4000;

/**
 * What a litre of glaze weighs that is put on in one way, in grams, from the least to the most that is published: potters' own figures,
 * which differ, so that they are no more than a hint. Sources stand in tests/reference/litre-weights.test.ts.
 */
export const LITRE_GRAMS_BY_WAY = {
  sprayed: { from: 1420, to: 1450 },
  poured: { from: 1450, to: 1550 },
  dipped: { from: 1420, to: 1700 },
  brushed: { from: 1450, to: 1860 },
} as const;
type Way = keyof typeof LITRE_GRAMS_BY_WAY;
const WAYS = Object.keys(LITRE_GRAMS_BY_WAY) as Way[];

/** In which ways glaze of this litre weight is put on by published figures; none where it is thinner or thicker than all of them. */
export function waysFor(litreGrams: number): Way[] {
  const grams = decimalIn(litreGrams, 'The weight of a litre in grams', LIGHTEST_LITRE_GRAMS, HEAVIEST_LITRE_GRAMS);
  return WAYS.filter((way) => grams.gte(LITRE_GRAMS_BY_WAY[way].from) && grams.lte(LITRE_GRAMS_BY_WAY[way].to));
}

/** How to bring glaze to the litre weight that is wanted, in whole ml: water to add or, below zero, to take off. */
export interface ToReach {
  addWaterMl: number;
  ways: Way[];
}

/**
 * What a litre that was weighed says of a batch.
 *
 * @param millilitres      of glaze
 * @param litreGrams       what a litre of it weighs
 * @param wantedLitreGrams what it should weigh; null where no recipe says so
 * @throws RangeError on a litre that weighs no more than water, or more than 4 kg
 */
export function adviceOnLitre(millilitres: number, litreGrams: number, wantedLitreGrams: number | null): ToReach {
  const ways = waysFor(litreGrams);
  if (wantedLitreGrams === null) return { addWaterMl: 0, ways };
  const water = waterToReachMillilitres({
    millilitres,
    litreWeightGrams: litreGrams,
    targetLitreWeightGrams: wantedLitreGrams,
  });
  return { addWaterMl: roundHalfUp(water), ways };
}
