import { decimalIn } from '../maths/number.js';
import { Decimal } from '../money/money.js';
import type { SizeMm, VesselShape } from './vessel-shapes.js';

// What is published of clay and glaze, to hold a plan's own figures against: a hint where they leave it, never a refusal.
// The sources stand in tests/reference/usual-figures.test.ts.

/** Dry grams per dm² of a finished coating, all coats together. */
export const COATING_GRAMS_PER_DM2 = { from: '2.6', to: '6' } as const;

/** Whether a coating is thinner or thicker than all that is published; null within. */
export function coatingOutside(gramsPerDm2: string): 'thinner' | 'thicker' | null {
  const grams = decimalIn(gramsPerDm2, 'Dry grams per dm²', 0, 100);
  if (grams.lt(COATING_GRAMS_PER_DM2.from)) return 'thinner';
  return grams.gt(COATING_GRAMS_PER_DM2.to) ? 'thicker' : null;
}

/** A pound, in grams. */
const POUND = 453.592_37;

/** Wet clay for one piece, in grams; of a pinch pot of a width, since its wall is about as thick at any size. */
const WET_GRAMS: Partial<Record<VesselShape, { from: number; to: number; widthMm?: number }>> = {
  mug: { from: POUND, to: 1.5 * POUND },
  bowl: { from: 1.5 * POUND, to: 1.5 * POUND },
  pinchPot: { from: POUND / 4, to: POUND / 4, widthMm: 76.2 },
};
/** Sizes differ: only below a half and above twice what is published is worth a word. Our own bounds. */
const ROOM = 2;

/** The bounds beyond which the wet mass of a piece is unusual, in whole grams; null of a form of which nothing is published. */
export function usualWetGrams(form: VesselShape, { widthMm }: SizeMm): { from: number; to: number } | null {
  const known = WET_GRAMS[form];
  if (!known) return null;
  const size = known.widthMm === undefined ? 1 : (widthMm / known.widthMm) ** 2;
  return { from: Math.round((known.from * size) / ROOM), to: Math.round(known.to * size * ROOM) };
}

/** What is advised at most for a student and an hour of making, in grams: 6 lb for a session of two hours. */
const GRAMS_PER_HOUR = 3 * POUND;

/** The most clay that is published for a student in so much time of making, in whole grams. */
export function mostClayGrams(makingMinutes: number): number {
  return new Decimal(GRAMS_PER_HOUR)
    .times(decimalIn(makingMinutes, 'The minutes of making', 0, 100_000))
    .div(60)
    .round()
    .toNumber();
}
