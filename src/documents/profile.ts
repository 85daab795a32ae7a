import { profilePath } from '../trade/materials/vessel-profiles.js';
import type { VesselShape } from '../trade/materials/vessel-shapes.js';
import type { Paper } from './paper.js';
import { INK, STYLES } from './style.js';

/** A piece to draw: its size in mm, and what is written below it. */
export type Profile = { code: string; description: string; form: VesselShape; widthMm: number; heightMm: number };

/** Where a piece stands on its board: the middle of its foot, in points from the board's left end. */
export type Standing = Profile & { x: number };

const POINTS_PER_MM = 72 / 25.4;
const SCALES = [3, 4, 5, 6, 8, 10, 12, 16, 20, 25] as const;
const GAP = 12;
const INSET = 6; // nothing stands on the very end of a board
const PLANK = 2.2;
const LABEL = 20;
const BETWEEN = 12;
const TINT = '#E6ECF5';

/**
 * Stands pieces on boards, from left to right and then on the next board, in their order.
 *
 * @param scale  25 means 1 : 25
 * @param width  of a board in points; a label wider than its piece counts too
 * @returns a board at least for each piece that fits on none with others
 */
export function arrangeOnBoards(
  pieces: readonly Profile[],
  scale: number,
  width: number,
  labelWidth: (code: string) => number,
): Standing[][] {
  const boards: Standing[][] = [];
  let board: Standing[] = [];
  let x = 0;
  for (const piece of pieces) {
    const room = Math.max((piece.widthMm * POINTS_PER_MM) / scale, labelWidth(piece.code));
    if (board.length > 0 && x + room > width) {
      boards.push(board);
      board = [];
      x = 0;
    }
    board.push({ ...piece, x: x + room / 2 });
    x += room + GAP;
  }
  if (board.length > 0) boards.push(board);
  return boards;
}

const tallest = (board: readonly Profile[], scale: number) =>
  (Math.max(...board.map((piece) => piece.heightMm)) * POINTS_PER_MM) / scale;
const boardHeight = (board: readonly Profile[], scale: number) => tallest(board, scale) + PLANK + LABEL;

export type Boards = { scale: number; boards: Standing[][] };

/** Chooses the largest scale at which all boards together are no higher than asked, and each piece fits on its board. */
export function chooseScale(paper: Paper, pieces: readonly Profile[], maxHeight: number): Boards {
  const labelWidth = (code: string) => paper.textWidth(code, STYLES.smallStrong);
  const at = (scale: number): Boards => ({
    scale,
    boards: arrangeOnBoards(pieces, scale, paper.width - 2 * INSET, labelWidth),
  });
  const widest = Math.max(...pieces.map((piece) => piece.widthMm)) * POINTS_PER_MM;
  const fits = ({ scale, boards }: Boards) => {
    const heights = boards.map((board) => boardHeight(board, scale));
    const together = heights.reduce((sum, height) => sum + height + BETWEEN, 0);
    return widest / scale <= paper.width - 2 * INSET && Math.max(...heights) <= 130 && together <= maxHeight;
  };
  const smallest = SCALES[SCALES.length - 1] as number;
  return SCALES.map(at).find(fits) ?? at(smallest);
}

/** The height of the first board, for a heading that has to stay with it. */
export const firstBoardHeight = ({ scale, boards }: Boards) => (boards[0] ? boardHeight(boards[0], scale) : 0);

/** Draws the boards below each other, each a figure that says in words what stands on it. */
export function drawBoards(paper: Paper, { scale, boards }: Boards): void {
  for (const board of boards) {
    const height = boardHeight(board, scale);
    paper.room(height);
    const top = paper.y;
    const plankTop = top + tallest(board, scale);
    const alt = `A board, to scale 1 : ${scale}. From left: ${board.map((p) => `${p.code}, ${p.description}`).join('; ')}.`;
    paper.tag('Figure', () => drawBoard(paper, board, scale, plankTop), {
      alt,
      bbox: [paper.left, top, paper.right, top + height],
      placement: 'Block',
    });
    paper.y = top + height + BETWEEN;
  }
}

function drawBoard(paper: Paper, board: readonly Standing[], scale: number, plankTop: number): void {
  const { doc } = paper;
  const pointsPerMm = POINTS_PER_MM / scale;
  for (const piece of board) {
    doc.save();
    doc.translate(paper.left + INSET + piece.x, plankTop).scale(pointsPerMm);
    doc.lineWidth(0.8 / pointsPerMm).lineJoin('round');
    doc.path(profilePath(piece.form, piece.widthMm, piece.heightMm)).fillAndStroke(TINT, INK, 'even-odd');
    doc.restore();
  }
  doc.rect(paper.left, plankTop, paper.width, PLANK).fill(INK);
  paper.y = plankTop + PLANK + 5;
  for (const piece of board) {
    const width = paper.textWidth(piece.code, STYLES.smallStrong) + 2;
    paper.put(piece.code, STYLES.smallStrong, { x: paper.left + INSET + piece.x - width / 2, width, align: 'center' });
  }
}
