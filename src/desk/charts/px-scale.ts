import type { ShownPiece } from '../format/piece';

/** A millimetre as the browser counts it: 96 CSS px to the inch. */
const PX_PER_MM = 96 / 25.4;
const SCALES = [9, 12, 16, 20, 28, 40] as const;
const SMALLEST = 40;
/** What fits a phone of 360 px beside its margins, and is not taller than a hand on a screen. */
const WIDEST_PX = 300;
const TALLEST_PX = 260;

/** One scale for all boards, 1 to this, so that sizes compare: the largest at which every pot fits a phone's plank. */
export function scaleFor(pieces: readonly Pick<ShownPiece, 'widthMm' | 'heightMm'>[]): number {
  const widest = Math.max(0, ...pieces.map(({ widthMm }) => widthMm));
  const tallest = Math.max(0, ...pieces.map(({ heightMm }) => heightMm));
  return SCALES.find((to) => pxOf(widest, to) <= WIDEST_PX && pxOf(tallest, to) <= TALLEST_PX) ?? SMALLEST;
}

export const pxOf = (mm: number, scale: number): number => (mm * PX_PER_MM) / scale;
