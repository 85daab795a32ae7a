import { type Face, fontOf } from './fonts.js';

export type Style = { face: Face; size: number; leading: number };

/** The sizes on paper, in points; there are no others. */
export const STYLES = {
  small: { face: 'regular', size: 8, leading: 11 },
  smallStrong: { face: 'semibold', size: 8, leading: 11 },
  body: { face: 'regular', size: 9.5, leading: 13 },
  strong: { face: 'semibold', size: 9.5, leading: 13 },
  heading: { face: 'semibold', size: 11.5, leading: 15 },
  title: { face: 'regular', size: 14, leading: 18 },
  answer: { face: 'light', size: 34, leading: 38 },
} as const satisfies Record<string, Style>;

/** Black and one oxide, so that a cheap printer and a wet hand leave it legible. */
export const INK = '#000000';
export const COBALT = '#1D4E9E';

/** What pdfkit puts between two lines, so that they are as far apart as the style says. */
export function lineGap({ face, size, leading }: Style): number {
  const { ascent, descent } = fontOf(face);
  return leading - ((ascent - descent) / 1000) * size;
}
