import { decimalIn } from '../maths/number.js';

export const VESSEL_SHAPES = ['cylinder', 'mug', 'bowl', 'plate', 'box', 'jar', 'bottle', 'pinchPot', 'tile'] as const;
export type VesselShape = (typeof VESSEL_SHAPES)[number];
export const SIZES = ['small', 'medium', 'large'] as const;
export type Size = (typeof SIZES)[number];

/** The box a piece just fits into, 1 to 2000 mm each way. A mug's width counts its handle, since that takes room too. */
export type SizeMm = { widthMm: number; depthMm: number; heightMm: number };

/** Assumed fired sizes, for a piece that nobody measured: our own figures after common practice, no published ones. */
const ASSUMED_MM: Record<VesselShape, Record<Size, readonly [number, number, number]>> = {
  cylinder: { small: [70, 70, 100], medium: [90, 90, 150], large: [120, 120, 220] },
  mug: { small: [105, 78, 80], medium: [120, 88, 95], large: [135, 100, 110] },
  bowl: { small: [120, 120, 55], medium: [160, 160, 75], large: [240, 240, 100] },
  plate: { small: [160, 160, 20], medium: [220, 220, 25], large: [280, 280, 30] },
  box: { small: [80, 80, 60], medium: [120, 90, 90], large: [180, 120, 120] },
  jar: { small: [90, 90, 110], medium: [120, 120, 160], large: [160, 160, 220] },
  bottle: { small: [70, 70, 140], medium: [90, 90, 190], large: [120, 120, 260] },
  pinchPot: { small: [70, 70, 50], medium: [95, 95, 70], large: [130, 130, 90] },
  tile: { small: [100, 100, 8], medium: [150, 150, 10], large: [200, 200, 12] },
};

/** A likely fired size from the word that people write on a board. It is an assumption: say so where it is shown. */
export function sizeFrom(form: VesselShape, size: Size): SizeMm {
  const [widthMm, depthMm, heightMm] = ASSUMED_MM[form][size];
  return { widthMm, depthMm, heightMm };
}

/** @throws RangeError on a size outside 1..2000 mm */
export function checkSize(size: SizeMm): [number, number, number] {
  for (const [what, mm] of [
    ['The width in mm', size.widthMm],
    ['The depth in mm', size.depthMm],
    ['The height in mm', size.heightMm],
  ] as const)
    decimalIn(mm, what, 1, 2000);
  return [size.widthMm, size.depthMm, size.heightMm];
}

type Faces = { insideMm2: number; outsideMm2: number };
const disc = (diameter: number) => (Math.PI / 4) * diameter * diameter;
/** A spherical cap of rim diameter d and height h has the area pi (d²/4 + h²). */
const cap = (diameter: number, height: number) => disc(diameter) + Math.PI * height * height;

/**
 * Faces that take glaze, by elementary geometry on a thin wall. The foot stays bare, or the pot sticks to its shelf.
 * Shares of the box (a foot, a handle, a shoulder) are our own assumptions.
 */
function faces(form: VesselShape, width: number, depth: number, height: number): Faces {
  const round = (width + depth) / 2;
  const wall = (diameter: number) => Math.PI * diameter * height;
  const walls = 2 * (width + depth) * height;
  switch (form) {
    case 'cylinder':
      return { insideMm2: wall(round) + disc(round), outsideMm2: wall(round) };
    case 'mug': {
      const body = Math.min(width, depth);
      return { insideMm2: wall(body) + disc(body), outsideMm2: wall(body) * 1.15 };
    }
    case 'bowl':
      return { insideMm2: cap(round, height), outsideMm2: cap(round, height) - disc(round * 0.4) };
    case 'plate':
      return { insideMm2: cap(round, height), outsideMm2: cap(round, height) - disc(round * 0.6) };
    case 'pinchPot':
      return { insideMm2: cap(round, height), outsideMm2: cap(round, height) - disc(round * 0.3) };
    case 'box':
      return { insideMm2: walls + width * depth, outsideMm2: walls };
    case 'jar':
      return { insideMm2: wall(round) * 0.85 + disc(round), outsideMm2: wall(round) + disc(round) };
    case 'bottle':
      return { insideMm2: wall(round * 0.8) + disc(round * 0.7), outsideMm2: wall(round * 0.8) };
    case 'tile':
      return { insideMm2: width * depth, outsideMm2: walls };
  }
}

/**
 * The area that is glazed, in dm² to two decimals. The inside of a plate is its upper side, that of a tile its face
 * (its outside are the edges); a jar counts its lid from above.
 *
 * @throws RangeError on a size outside 1..2000 mm
 */
export function areaDm2(form: VesselShape, size: SizeMm, sides: { inside: boolean; outside: boolean }): number {
  const { insideMm2, outsideMm2 } = faces(form, ...checkSize(size));
  const mm2 = (sides.inside ? insideMm2 : 0) + (sides.outside ? outsideMm2 : 0);
  return Math.round(mm2 / 100) / 100;
}
