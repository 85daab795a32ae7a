import { createHash } from 'node:crypto';
import PDFDocument from 'pdfkit';
import { FACES, type Face, fontOf, printable, refuseUnprintable } from './fonts.js';
import { fitInside, LOGO_BOXES, type PaperSize, SHEETS, type SheetPart } from './sheet.js';

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

const FOOTER_FROM_BOTTOM = 36;

export type Spot = { x?: number; width?: number; align?: 'left' | 'right' | 'center'; color?: string };
type TagOptions = PDFKit.Mixins.StructureElementOptions;

export type PaperFrame = {
  sheet: SheetPart;
  title: string;
  /** what stands at the foot of each page, beside its number */
  footer: string;
  /** YYYY-MM-DD; stands as the day of creation, since the hour of printing would change the bytes */
  day: string;
  content: { studio: { name: string }; language: string; paperSize?: PaperSize | undefined; logo?: string | undefined };
  /** the picture that the content names by its SHA-256 */
  logo: Uint8Array | null;
  /** how large it may be, where that is not as the sheet has it */
  logoBox?: SheetPart;
};

type Shorter = { page: number; by: number };

const LEAST_FILLED = 60; // a heading with two lines, or three rows
const STEP = 12; // a line
const MOST = 400; // beyond that a page before would look torn off

/**
 * Draws a paper to its end. Where its last page would hold next to nothing, a sentence or a sum, it is drawn again with a page before
 * that ends earlier, so that more goes over: by as little as does it, a line at a time.
 *
 * @param draw    the same calls each time it is asked, from top to bottom
 * @param tighter other ways to draw it: the first that makes one page of two is taken
 */
export function drawPaper(
  frame: PaperFrame,
  draw: (paper: Paper) => void,
  tighter: readonly ((paper: Paper) => void)[] = [],
): Promise<Buffer> {
  const first = drawn(frame, draw);
  for (const way of first.pages === 2 ? tighter : []) {
    const tight = drawn(frame, way);
    if (tight.pages === 1) return tight.finish();
  }
  if (first.pages === 1 || first.filled >= LEAST_FILLED) return first.finish();
  for (let by = STEP; by < MOST; by += STEP) {
    const again = drawn(frame, draw, { page: first.pages - 1, by });
    if (again.pages > first.pages) return first.finish(); // nothing fits better: what goes over is one large piece
    if (again.filled >= LEAST_FILLED) return again.finish();
  }
  return first.finish();
}

function drawn(frame: PaperFrame, draw: (paper: Paper) => void, shorter: Shorter | null = null): Paper {
  const paper = new Paper(frame, shorter);
  draw(paper);
  return paper;
}

/**
 * A tagged PDF that is written from top to bottom. The same frame and the same calls give the same bytes, so that a stored
 * SHA-256 means something. Lengths are points from the top left corner; `y` is where the next capitals begin.
 */
export class Paper {
  readonly doc: PDFKit.PDFDocument;
  readonly left: number;
  readonly right: number;
  /** As it is drawn: as large as fits in its box. */
  readonly logo: { image: PDFKit.Mixins.OpenImage; width: number; height: number } | null;
  y = 0;
  #parent: PDFKit.PDFStructureElement;
  readonly #frame: PaperFrame;
  readonly #top: number;
  readonly #bottom: number;
  readonly #shorter: Shorter | null;
  #pageBegin: number;
  #page = 1;
  #inTag = false;

  /** @param shorter a page that ends above its foot, so that more goes over to the next one; see drawPaper */
  constructor(frame: PaperFrame, shorter: Shorter | null = null) {
    refuseUnprintable(frame.content);
    this.#frame = frame;
    this.#shorter = shorter;
    const { size, side, top, bottom } = SHEETS[frame.content.paperSize ?? 'A4'][frame.sheet];
    this.doc = new PDFDocument({
      size: [...size],
      margin: 0,
      font: '', // none of the PDF's own fonts, which print "Żółć" as rubbish
      autoFirstPage: false,
      bufferPages: true, // "of 3" is known at the end
      pdfVersion: '1.7',
      tagged: true,
      lang: frame.content.language,
      displayTitle: true,
      info: infoOf(frame),
    });
    // pdfkit takes a parsed fontkit font too, which its types don't know
    for (const face of FACES) this.doc.registerFont(face, fontOf(face) as unknown as Uint8Array);
    this.#parent = this.doc.struct('Document');
    this.doc.addStructure(this.#parent);
    this.logo = this.#openLogo();
    this.doc.addPage();
    this.left = side;
    this.right = this.doc.page.width - side;
    this.#top = top;
    this.#bottom = this.doc.page.height - bottom;
    this.y = top;
    this.#pageBegin = top;
  }

  get width(): number {
    return this.right - this.left;
  }

  /** How far down this page may be written on. */
  get bottom(): number {
    return this.#bottom - (this.#page === this.#shorter?.page ? this.#shorter.by : 0);
  }

  get pages(): number {
    return this.#page;
  }

  /** How much of this page has been written on, below what stands on each page. */
  get filled(): number {
    return this.y - this.#pageBegin;
  }

  /** Turns to a new page unless this much height is left. */
  room(height: number): void {
    if (this.y + height > this.bottom) this.newPage();
  }

  newPage(): void {
    this.doc.addPage();
    this.#page += 1;
    this.y = this.#top;
    const { name: studioName } = this.#frame.content.studio;
    this.artefact('Pagination', () => this.put(studioName, STYLES.smallStrong));
    this.y += this.height(studioName, STYLES.smallStrong) + 15;
    this.#pageBegin = this.y;
  }

  /** Space between two parts, which isn't wanted at the top of a page. */
  space(height: number): void {
    if (this.y > this.#pageBegin) this.y += height;
  }

  height(text: string, style: Style, width = this.width): number {
    return text.split('\n').reduce((sum, line) => sum + this.#lineHeight(line, style, width), 0);
  }

  #lineHeight(line: string, style: Style, width: number): number {
    this.doc.font(style.face, style.size);
    const measured = this.doc.heightOfString(printable(line), { width, ...this.#gap(style) });
    return Math.max(1, Math.round(measured / style.leading)) * style.leading;
  }

  textWidth(text: string, style: Style): number {
    return this.doc.font(style.face, style.size).widthOfString(printable(text));
  }

  /** Draws text at `y` without a tag of its own and without moving on. */
  put(text: string, style: Style, { x = this.left, width = this.right - x, align, color = INK }: Spot = {}): void {
    const { doc } = this;
    const aboveCapitals = ((fontOf(style.face).ascent - fontOf(style.face).capHeight) / 1000) * style.size;
    let top = this.y - aboveCapitals;
    for (const line of text.split('\n')) {
      // one by one, since pdfkit counts the width of a line's end as that of a letter
      doc.font(style.face, style.size).fillColor(color);
      // without a space between them, "7 Alder Lane" and "Ostlemere" would be read aloud as one word
      if (this.#inTag) doc.text(' ', x, top, { lineBreak: false });
      this.#inTag = true;
      doc.text(printable(line), x, top, { width, align, ...this.#gap(style) });
      top += this.#lineHeight(line, style, width);
    }
  }

  /** Draws tagged text at `y` and moves below it. */
  say(tag: string, text: string, style: Style, spot: Spot = {}): void {
    const height = this.height(text, style, spot.width ?? this.right - (spot.x ?? this.left));
    this.tag(tag, () => this.put(text, style, spot));
    this.y += height;
  }

  /** One leaf of the structure tree: all that `draw` prints belongs to it. Rules inside it would need a tag: draw them outside. */
  tag(tag: string, draw: () => void, options: TagOptions = {}): void {
    this.#inTag = false;
    this.#parent.add(this.doc.struct(tag, options, [draw]));
  }

  /** A branch of the structure tree: all that `body` tags hangs on it. */
  within(tag: string, body: () => void): void {
    const parent = this.#parent;
    const branch = this.doc.struct(tag);
    parent.add(branch);
    this.#parent = branch;
    body();
    branch.end();
    this.#parent = parent;
  }

  /** What is seen but not read aloud: rules, boards, page numbers. */
  artefact(type: 'Layout' | 'Pagination', draw: () => void): void {
    this.doc.markContent('Artifact', { type });
    draw();
    this.doc.endMarkedContent();
  }

  /** Draws the logo with its upper left corner at `y`, without moving on. */
  putLogo(x = this.left): void {
    if (this.logo === null) return;
    const { image, width, height } = this.logo;
    this.tag('Figure', () => this.doc.image(image, x, this.y, { width, height }), {
      alt: `Logo of ${this.#frame.content.studio.name}`,
      bbox: [x, this.y, x + width, this.y + height],
      placement: 'Block',
    });
  }

  #openLogo(): Paper['logo'] {
    const { content, logo, sheet, logoBox = sheet } = this.#frame;
    if (content.logo === undefined) return null;
    // a paper shows the logo that it was issued with, or it isn't that paper
    if (logo === null || createHash('sha256').update(logo).digest('hex') !== content.logo)
      throw new RangeError('This is not the logo that the paper was issued with.');
    const image = this.doc.openImage(logo);
    return { image, ...fitInside(image, LOGO_BOXES[logoBox]) };
  }

  /** A line across, at `y` and without moving on. */
  rule(weight: number, from = this.left, to = this.right): void {
    this.artefact('Layout', () => {
      this.doc.lineWidth(weight).moveTo(from, this.y).lineTo(to, this.y).stroke(INK);
    });
  }

  /** Numbers the pages and closes the document. */
  async finish(): Promise<Buffer> {
    const { count } = this.doc.bufferedPageRange();
    for (let i = 0; i < count; i++) {
      this.doc.switchToPage(i);
      this.y = this.doc.page.height - FOOTER_FROM_BOTTOM;
      this.artefact('Pagination', () => {
        this.put(this.#frame.footer, STYLES.small);
        this.put(`Page ${i + 1} of ${count}`, STYLES.small, { align: 'right' });
      });
    }
    this.doc.end();
    const chunks: Buffer[] = [];
    for await (const chunk of this.doc) chunks.push(Buffer.from(chunk));
    return Buffer.concat(chunks);
  }

  #gap(style: Style) {
    const font = fontOf(style.face);
    return { lineGap: style.leading - ((font.ascent - font.descent) / 1000) * style.size };
  }
}

/**
 * pdfkit makes the file's id from this: the digest of the content makes it the paper's own, and any change of content
 * another id. The title goes into XML unescaped, so that it must hold no names, which also keeps people out of listings.
 */
function infoOf({ title, day, content }: PaperFrame): PDFKit.DocumentInfo {
  if (/[&<>]/.test(title)) throw new RangeError('The title of a document can’t contain & < or >.');
  const digest = createHash('sha256').update(JSON.stringify(content)).digest('hex');
  const created = new Date(`${day}T00:00:00Z`);
  return {
    Title: title.replaceAll('\u00a0', ' '),
    Creator: 'Wareboard',
    CreationDate: created,
    ModDate: created,
    Keywords: `content ${digest}`,
  };
}
