import PDFDocument from 'pdfkit';
import { remember } from '../trade/maths/remember.js';
import { FACES, fontOf, printable } from './fonts.js';
import { lineGap, type Style } from './style.js';

const TEXTS_MAX = 20_000; // a few megabytes
const PICTURES_MAX = 100;

const heights = remember<number>(TEXTS_MAX);
const widths = remember<number>(TEXTS_MAX);
const pictures = remember<{ width: number; height: number }>(PICTURES_MAX);

let ruler: PDFKit.PDFDocument | undefined;

/** A document that nothing is written into: pdfkit measures by the same rules by which it breaks lines, and only a document can. */
function getRuler(): PDFKit.PDFDocument {
  if (!ruler) {
    // its own cache of words would grow for as long as the process runs; fonts.ts keeps them, with a bound
    ruler = new PDFDocument({ margin: 0, font: '', bufferPages: true, fontLayoutCache: false });
    for (const each of FACES) ruler.registerFont(each, fontOf(each) as unknown as Uint8Array);
  }
  return ruler;
}

const rulerIn = ({ face, size }: Style) => getRuler().font(face, size);

/** How high one line of text becomes where it is broken at a width: whole lines. */
export function lineHeight(line: string, style: Style, width: number): number {
  return heights(`${style.face} ${style.size} ${style.leading} ${width} ${line}`, () => {
    const measured = rulerIn(style).heightOfString(printable(line), { width, lineGap: lineGap(style) });
    return Math.max(1, Math.round(measured / style.leading)) * style.leading;
  });
}

/** How wide a text is on one line. */
export const textWidth = (text: string, style: Style): number =>
  widths(`${style.face} ${style.size} ${text}`, () => rulerIn(style).widthOfString(printable(text)));

/** How many points, or pixels, a picture has. @param sha256 of its bytes */
export function imageSize(bytes: Uint8Array, sha256: string): { width: number; height: number } {
  return pictures(sha256, () => {
    const { width, height } = getRuler().openImage(bytes);
    return { width, height };
  });
}
