import { KILN_GAP_MM } from '../../trade/firing/kiln-room.js';
import type { ShownPiece } from '../format/piece';

type Sized = Pick<ShownPiece, 'widthMm' | 'heightMm'>;

/** A piece in the chamber: the middle of its foot, in mm from the left wall. */
export type Placed<P> = { piece: P; xMm: number };
/** A row of pieces beside each other; the rows behind the first are drawn paler. */
export type Row<P> = { behind: boolean; placed: Placed<P>[] };
export type Shelf<P> = { layer: number; yMm: number; headMm: number; rows: Row<P>[] };

/** A kiln shelf and the least air above what stands on it: common practice. */
const SHELF_MM = 15;
const AIR_MM = 15;

/**
 * Where the pieces of each layer stand in a section of the chamber, from the floor up. A layer is known, its shelf's
 * height is not: each is as high as its tallest piece needs. Pieces that find no room side by side stand behind.
 *
 * @returns the shelves in mm above the floor, and the height that they need together
 */
export function layOut<P extends Sized>(
  widthMm: number,
  layers: readonly { layer: number; pieces: readonly P[] }[],
): { shelves: Shelf<P>[]; neededMm: number } {
  let yMm = 0;
  const shelves = [...layers]
    .filter(({ pieces }) => pieces.length > 0)
    .sort((a, b) => a.layer - b.layer)
    .map(({ layer, pieces }) => {
      const headMm = Math.max(...pieces.map(({ heightMm }) => heightMm)) + AIR_MM;
      const shelf = { layer, yMm, headMm, rows: rowsOf(widthMm, pieces) };
      yMm += headMm + SHELF_MM;
      return shelf;
    });
  return { shelves, neededMm: Math.max(0, yMm - SHELF_MM) };
}

function rowsOf<P extends Sized>(widthMm: number, pieces: readonly P[]): Row<P>[] {
  const rows: P[][] = [];
  let room = 0;
  for (const piece of [...pieces].sort((a, b) => b.heightMm - a.heightMm)) {
    const needed = piece.widthMm + KILN_GAP_MM;
    const last = rows.at(-1);
    if (last && needed <= room) last.push(piece);
    else {
      rows.push([piece]);
      room = widthMm - KILN_GAP_MM;
    }
    room -= needed;
  }
  return rows.map((row, i) => ({ behind: i < rows.length - 1, placed: spread(widthMm, row) }));
}

function spread<P extends Sized>(widthMm: number, row: readonly P[]): Placed<P>[] {
  const gap = (widthMm - row.reduce((sum, piece) => sum + piece.widthMm, 0)) / (row.length + 1);
  let from = gap;
  return row.map((piece) => {
    const xMm = from + piece.widthMm / 2;
    from += piece.widthMm + gap;
    return { piece, xMm };
  });
}
