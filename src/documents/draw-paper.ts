import { Paper, type PaperFrame, type Shorter } from './paper.js';

const LEAST_FILLED = 60; // a heading with two lines, or three rows
const STEP = 12; // a line
const MOST = 400; // beyond that a page before would look torn off

type Draw = (paper: Paper) => void;
type Way = { draw: Draw; shorter: Shorter | null };

/**
 * Draws a paper to its end. Where its last page would hold next to nothing, a sentence or a sum, a page before it ends earlier, so
 * that more goes over: by as little as does it, a line at a time. Ways are compared by measuring alone, and one is drawn.
 *
 * @param draw    the same calls each time it is asked, from top to bottom
 * @param tighter other ways to draw it: the first that makes one page of two is taken
 */
export function drawPaper(frame: PaperFrame, draw: Draw, tighter: readonly Draw[] = []): Promise<Buffer> {
  const measure = (way: Way) => {
    const paper = new Paper(frame, { ...way, isMeasuring: true });
    way.draw(paper);
    return { ...way, pages: paper.pages, filled: paper.filled };
  };
  const { pages, ...way } = chooseWay(measure, draw, tighter);
  const paper = new Paper(frame, way);
  way.draw(paper);
  if (paper.pages !== pages)
    throw new Error(`"${frame.title}" was measured as ${pages} pages and drawn as ${paper.pages}.`);
  return paper.finish();
}

type Measured = Way & { pages: number; filled: number };

function chooseWay(measure: (way: Way) => Measured, draw: Draw, tighter: readonly Draw[]): Measured {
  const first = measure({ draw, shorter: null });
  for (const way of first.pages === 2 ? tighter : []) {
    const tight = measure({ draw: way, shorter: null });
    if (tight.pages === 1) return tight;
  }
  if (first.pages === 1 || first.filled >= LEAST_FILLED) return first;
  for (let by = STEP; by < MOST; by += STEP) {
    const again = measure({ draw, shorter: { page: first.pages - 1, by } });
    if (again.pages > first.pages) return first; // nothing fits better: what goes over is one large piece
    if (again.filled >= LEAST_FILLED) return again;
  }
  return first;
}
