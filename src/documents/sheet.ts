/** A studio prints on sheets of one size: ISO 216 A4, or ANSI/ASME Y14.1 A, which shops sell as Letter. */
export const PAPER_SIZES = ['A4', 'LETTER'] as const;
export type PaperSize = (typeof PAPER_SIZES)[number];

type Sheet = {
  /** width and height in points */
  size: [number, number];
  side: number;
  top: number;
  bottom: number;
};

/** What people take home is half a sheet, so that two of them fill one: A5 is half of A4. */
export const SHEETS = {
  A4: {
    whole: { size: [595.28, 841.89], side: 57, top: 57, bottom: 64 },
    half: { size: [419.53, 595.28], side: 42, top: 42, bottom: 51 },
  },
  LETTER: {
    whole: { size: [612, 792], side: 57, top: 57, bottom: 64 },
    half: { size: [396, 612], side: 36, top: 42, bottom: 51 },
  },
} as const satisfies Record<PaperSize, Record<'whole' | 'half', Sheet>>;

export type SheetPart = keyof (typeof SHEETS)[PaperSize];

type Box = { width: number; height: number };

/** The logo is drawn as large as fits in here, in points: 49 by 20 mm, and 31 by 14 mm on half a sheet. */
export const LOGO_BOXES = {
  whole: { width: 140, height: 56 },
  half: { width: 88, height: 40 },
} as const satisfies Record<SheetPart, Box>;

/** The largest size at which a picture fits in a box, neither stretched nor squeezed. */
export function fitInside(picture: Box, box: Box): Box {
  const scale = Math.min(box.width / picture.width, box.height / picture.height);
  return { width: picture.width * scale, height: picture.height * scale };
}
