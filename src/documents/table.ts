import { heading } from './head.js';
import type { Paper } from './paper.js';
import type { Style } from './style.js';
import { INK, STYLES } from './style.js';

/** A column is as wide as its widest line, but `atMost` so wide; those without `atMost` share what is left. */
export type TableColumn = { head: string; atMost?: number; align?: 'right' };
/** A box is an empty square to be ticked by hand. */
type Cell = string | { text: string; strong: true } | { box: true };
/** `sum` rows are set strong under a heavier line, and never stand alone on a page. */
export type TableRow = { cells: readonly Cell[]; sum?: boolean };

/** Figures stand under each other on the right, and are never broken. */
export const figures = (head: string): TableColumn => ({ head, atMost: Number.POSITIVE_INFINITY, align: 'right' });

/** A VAT rate, or in words why there is none. */
export const RATE: TableColumn = { head: 'VAT', atMost: 76, align: 'right' };

const PADDING = 4;
const GUTTER = 14;
const NARROWEST = 60;
const HAIRLINE = 0.4;
const CELL: Style = { face: 'regular', size: 9, leading: 12 };
const CELL_STRONG: Style = { face: 'semibold', size: 9, leading: 12 };

type Placed = TableColumn & { x: number; inner: number };

/**
 * Draws a ruled table, tagged as one: its first column holds the heads of its rows. A row is never parted; where the table
 * goes on to another page its head is repeated there (for the eye only, a reader has it already).
 *
 * @param title stands above it as a heading, on the same page as its first row
 */
export function drawTable(
  paper: Paper,
  columns: readonly TableColumn[],
  rows: readonly TableRow[],
  title?: string,
): void {
  const placed = place(paper, columns, rows);
  const heights = rows.map((row) => rowHeight(paper, placed, row));
  const headHeight = Math.max(...placed.map((c) => paper.height(c.head, STYLES.smallStrong, c.inner))) + PADDING;
  const beginning = headHeight + together(rows, heights, 0);
  if (title === undefined) paper.room(beginning);
  else heading(paper, title, beginning);
  paper.within('Table', () => {
    paper.within('TR', () => {
      for (const column of placed)
        paper.tag('TH', () => paper.put(column.head, STYLES.smallStrong, spot(column)), { scope: 'Column' });
    });
    belowHead(paper, headHeight);
    for (const [i, row] of rows.entries()) {
      if (paper.y + together(rows, heights, i) > paper.bottom) {
        paper.newPage();
        paper.artefact('Pagination', () => {
          for (const column of placed) paper.put(column.head, STYLES.smallStrong, spot(column));
        });
        belowHead(paper, headHeight);
      }
      drawRow(paper, placed, row, heights[i] ?? 0, rows[i + 1]?.sum === true);
    }
  });
}

function place(paper: Paper, columns: readonly TableColumn[], rows: readonly TableRow[]): Placed[] {
  const wanted = columns.map(({ atMost = 0 }, i) =>
    Math.min(atMost, widest(paper, columns[i] as TableColumn, i, rows)),
  );
  const open = columns.filter((column) => column.atMost === undefined).length;
  const taken = wanted.reduce((sum, width) => sum + width, 0);
  const width = paper.width - GUTTER * (columns.length - 1);
  // figures of very large sums are broken rather than squeeze the words out
  const squeeze = Math.min(1, (width - open * NARROWEST) / taken);
  const share = (width - taken * squeeze) / open;
  let x = paper.left;
  return columns.map((column, i) => {
    const at = { ...column, x, inner: column.atMost === undefined ? share : (wanted[i] ?? 0) * squeeze };
    x += at.inner + GUTTER;
    return at;
  });
}

function widest(paper: Paper, column: TableColumn, i: number, rows: readonly TableRow[]): number {
  const width = (text: string, style: Style) =>
    Math.max(...text.split('\n').map((line) => paper.textWidth(line, style)));
  const cells = rows.map((row) => width(textOf(row.cells[i] ?? ''), styleOf(row.cells[i] ?? '', row)));
  return Math.ceil(Math.max(width(column.head, STYLES.smallStrong), ...cells)) + 1;
}

const spot = ({ x, inner, align }: Placed) => ({ x, width: inner, align });
const textOf = (cell: Cell) => (typeof cell === 'string' ? cell : 'text' in cell ? cell.text : '');
const styleOf = (cell: Cell, row: TableRow) =>
  row.sum || (typeof cell !== 'string' && 'text' in cell) ? CELL_STRONG : CELL;

function rowHeight(paper: Paper, columns: readonly Placed[], row: TableRow): number {
  const heights = columns.map((column, i) => {
    const cell = row.cells[i] ?? '';
    return paper.height(textOf(cell), styleOf(cell, row), column.inner);
  });
  return Math.max(...heights) + 2 * PADDING - (CELL.leading - CELL.size * 0.66);
}

/** The height of a row with the sums that follow it, which must not begin a page by themselves. */
function together(rows: readonly TableRow[], heights: readonly number[], from: number): number {
  let height = heights[from] ?? 0;
  for (let i = from + 1; rows[i]?.sum; i++) height += heights[i] ?? 0;
  return height;
}

function belowHead(paper: Paper, headHeight: number): void {
  paper.y += headHeight - PADDING + 1;
  paper.rule(1);
}

function drawRow(paper: Paper, columns: readonly Placed[], row: TableRow, height: number, sumFollows: boolean): void {
  const top = paper.y;
  paper.y = top + PADDING;
  paper.within('TR', () => {
    for (const [i, column] of columns.entries()) {
      const cell = row.cells[i] ?? '';
      const draw = () => paper.put(textOf(cell), styleOf(cell, row), spot(column));
      if (i === 0) paper.tag('TH', draw, { scope: 'Row' });
      else paper.tag('TD', draw);
    }
  });
  for (const [i, { x }] of columns.entries()) if (isBox(row.cells[i])) drawBox(paper, x);
  paper.y = top + height;
  paper.rule(sumFollows && !row.sum ? 1 : HAIRLINE);
}

const isBox = (cell: Cell | undefined) => typeof cell === 'object' && 'box' in cell;

function drawBox(paper: Paper, x: number): void {
  const side = 9;
  paper.artefact('Layout', () => {
    paper.doc
      .lineWidth(0.8)
      .rect(x + 1, paper.y - 1, side, side)
      .stroke(INK);
  });
}
