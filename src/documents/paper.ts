import { createHash } from 'node:crypto';
import PDFDocument from 'pdfkit';
import { FACES, fontOf, printable, refuseUnprintable } from './fonts.js';
import { imageSize, lineHeight, textWidth } from './measure.js';
import { fitInside, LOGO_BOXES, type PaperSize, SHEETS, type SheetPart } from './sheet.js';
import { INK, lineGap, STYLES, type Style } from './style.js';

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

/** A page that ends above its foot, so that more goes over to the next one. */
export type Shorter = { page: number; by: number };

type Manner = {
  shorter?: Shorter | null;
  /** Says how many pages it takes, and draws nothing: a few per cent of the work. */
  isMeasuring?: boolean;
};

/**
 * A tagged PDF that is written from top to bottom. The same frame and the same calls give the same bytes, so that a stored
 * SHA-256 means something. Lengths are points from the top left corner; `y` is where the next capitals begin.
 */
export class Paper {
  readonly left: number;
  readonly right: number;
  /** As it is drawn: as large as fits in its box. */
  readonly logo: { width: number; height: number } | null;
  y = 0;
  readonly #doc: PDFKit.PDFDocument | null;
  readonly #image: PDFKit.Mixins.OpenImage | null;
  #parent: PDFKit.PDFStructureElement | null = null;
  readonly #frame: PaperFrame;
  readonly #top: number;
  readonly #bottom: number;
  readonly #shorter: Shorter | null;
  #pageBegin: number;
  #page = 1;
  #inTag = false;

  constructor(frame: PaperFrame, { shorter = null, isMeasuring = false }: Manner = {}) {
    refuseUnprintable(frame.content);
    refuseOtherLogo(frame);
    this.#frame = frame;
    this.#shorter = shorter;
    const { size, side, top, bottom } = SHEETS[frame.content.paperSize ?? 'A4'][frame.sheet];
    this.#doc = isMeasuring ? null : openDocument(frame, size);
    const { content, logo, sheet: part, logoBox = part } = frame;
    if (content.logo === undefined || logo === null) this.#image = this.logo = null;
    else {
      this.#image = this.#doc?.openImage(logo) ?? null;
      this.logo = fitInside(this.#image ?? imageSize(logo, content.logo), LOGO_BOXES[logoBox]);
    }
    if (this.#doc) {
      this.#parent = this.#doc.struct('Document');
      this.#doc.addStructure(this.#parent);
      this.#doc.addPage();
    }
    this.left = side;
    this.right = size[0] - side;
    this.#top = top;
    this.#bottom = size[1] - bottom;
    this.y = top;
    this.#pageBegin = top;
  }

  /** For what is drawn by itself, within a tag or an artefact. */
  get doc(): PDFKit.PDFDocument {
    if (!this.#doc) throw new Error('A paper that is only measured has nothing to draw on.');
    return this.#doc;
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
    this.#doc?.addPage();
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
    this.#use(style);
    return text.split('\n').reduce((sum, line) => sum + lineHeight(line, style, width), 0);
  }

  textWidth(text: string, style: Style): number {
    this.#use(style);
    return textWidth(text, style);
  }

  /** pdfkit numbers faces in the order in which they are first asked for: what is measured counts, or the bytes would change. */
  #use({ face, size }: Style): void {
    this.#doc?.font(face, size);
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
      doc.text(printable(line), x, top, { width, align, lineGap: lineGap(style) });
      top += lineHeight(line, style, width);
    }
  }

  /** Draws tagged text at `y` and moves below it. */
  say(tag: string, text: string, style: Style, spot: Spot = {}): void {
    const height = this.height(text, style, spot.width ?? this.right - (spot.x ?? this.left));
    this.tag(tag, () => this.put(text, style, spot));
    this.y += height;
  }

  /**
   * One leaf of the structure tree: all that `draw` prints belongs to it. Rules inside it would need a tag: draw them outside. What
   * `draw` does to `y` is forgotten, since it isn't asked where the paper is only measured.
   */
  tag(tag: string, draw: () => void, options: TagOptions = {}): void {
    this.#inTag = false;
    if (this.#doc) this.#parent?.add(this.#doc.struct(tag, options, [() => this.#staying(draw)]));
  }

  /** A branch of the structure tree: all that `body` tags hangs on it. */
  within(tag: string, body: () => void): void {
    const parent = this.#parent;
    const branch = this.#doc?.struct(tag);
    if (branch) {
      parent?.add(branch);
      this.#parent = branch;
    }
    body();
    branch?.end();
    this.#parent = parent;
  }

  /** What is seen but not read aloud: rules, boards, page numbers. `y` stays where it is. */
  artefact(type: 'Layout' | 'Pagination', draw: () => void): void {
    if (!this.#doc) return;
    this.#doc.markContent('Artifact', { type });
    this.#staying(draw);
    this.#doc.endMarkedContent();
  }

  #staying(draw: () => void): void {
    const { y } = this;
    draw();
    this.y = y;
  }

  /** Draws the logo with its upper left corner at `y`, without moving on. */
  putLogo(x = this.left): void {
    if (this.logo === null) return;
    const { width, height } = this.logo;
    const draw = () => {
      if (this.#image) this.doc.image(this.#image, x, this.y, { width, height });
    };
    this.tag('Figure', draw, {
      alt: `Logo of ${this.#frame.content.studio.name}`,
      bbox: [x, this.y, x + width, this.y + height],
      placement: 'Block',
    });
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
}

function openDocument(frame: PaperFrame, size: readonly [number, number]): PDFKit.PDFDocument {
  const doc = new PDFDocument({
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
  for (const face of FACES) doc.registerFont(face, fontOf(face) as unknown as Uint8Array);
  return doc;
}

/** A paper shows the logo that it was issued with, or it isn't that paper. */
function refuseOtherLogo({ content, logo }: PaperFrame): void {
  if (content.logo === undefined) return;
  if (logo === null || createHash('sha256').update(logo).digest('hex') !== content.logo)
    throw new RangeError('This is not the logo that the paper was issued with.');
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
