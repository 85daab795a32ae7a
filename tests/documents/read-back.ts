import { getDocument, OPS, type PDFPageProxy } from 'pdfjs-dist/legacy/build/pdf.mjs';

/** A leaf or branch of a page's structure tree, as pdfjs gives it. */
export type TagNode = { role?: string; alt?: string; type?: string; id?: string; children?: TagNode[] };
export type PrintedText = { text: string; x: number; y: number; width: number; size: number };

/** Where everything is printed on a page, in points from its bottom left corner. */
export type LaidPage = { items: PrintedText[]; width: number; height: number };

export type ReadPage = LaidPage & {
  text: string;
  spoken: string[];
  tags: TagNode;
  artefacts: number;
};

const open = (bytes: Uint8Array) =>
  getDocument({ data: new Uint8Array(bytes), useSystemFonts: false, verbosity: 0 }).promise;

type TextItems = Awaited<ReturnType<PDFPageProxy['getTextContent']>>['items'];

function laid(items: TextItems, [, , width = 0, height = 0]: number[]): LaidPage {
  const printed = items.flatMap((item): PrintedText[] => {
    if (!('str' in item) || item.str.trim() === '') return [];
    const [, , , size = 0, x = 0, y = 0] = item.transform as number[];
    return [{ text: item.str, x, y, width: item.width, size }];
  });
  return { items: printed, width, height };
}

/** Reads no more of a PDF than where everything is printed: the rest takes several times as long. */
export async function readLayout(bytes: Uint8Array): Promise<LaidPage[]> {
  const pdf = await open(bytes);
  const pages: LaidPage[] = [];
  for (let n = 1; n <= pdf.numPages; n++) {
    const page = await pdf.getPage(n);
    pages.push(laid((await page.getTextContent()).items, page.view));
  }
  await pdf.destroy();
  return pages;
}

/** Reads a PDF with another library than the one that wrote it. */
export async function readBack(bytes: Uint8Array) {
  const pdf = await open(bytes);
  const { info, metadata } = await pdf.getMetadata();
  const pages: ReadPage[] = [];
  for (let n = 1; n <= pdf.numPages; n++) {
    const page = await pdf.getPage(n);
    const { items } = await page.getTextContent({ includeMarkedContent: true });
    pages.push({
      ...laid(items, page.view),
      text: items
        .map((item) => ('str' in item ? item.str + (item.hasEOL ? ' ' : '') : ' '))
        .join('')
        .replace(/\s+/g, ' '),
      spoken: spokenIn(await page.getOperatorList()),
      tags: onThisPage((await page.getStructTree()) as TagNode),
      artefacts: items.filter((item) => 'tag' in item && item.tag === 'Artifact').length,
    });
  }
  const read = {
    info: info as Record<string, unknown>,
    xmpTitle: metadata?.get('dc:title') as unknown,
    marked: await pdf.getMarkInfo(),
    preferences: (await pdf.getViewerPreferences()) as Record<string, unknown> | null,
    pages,
    text: pages.map((page) => page.text).join(' '),
  };
  await pdf.destroy();
  return read;
}

/** What each tag says when it is read aloud: the letters that are drawn within it, and no more. */
function spokenIn({ fnArray, argsArray }: { fnArray: number[]; argsArray: unknown[] }): string[] {
  const spoken: string[] = [];
  for (const [i, fn] of fnArray.entries()) {
    if (fn === OPS.beginMarkedContentProps) spoken.push('');
    if (fn !== OPS.showText) continue;
    const glyphs = (argsArray[i] as [(number | { unicode: string })[]])[0];
    const letters = glyphs.map((glyph) => (typeof glyph === 'number' ? '' : glyph.unicode)).join('');
    spoken.push(`${spoken.pop() ?? ''}${letters}`);
  }
  return spoken.map((text) => text.replace(/\s+/g, ' ').trim());
}

/** pdfjs lists the whole document for each page; what has no content on the page is left out here. */
function onThisPage(node: TagNode): TagNode {
  const children = (node.children ?? [])
    .map(onThisPage)
    .filter((child) => child.type === 'content' || child.children?.length);
  return { ...node, children };
}

/** A picture as it is placed on its page, in points from the bottom left corner, and of how many pixels it is. */
export type PlacedPicture = { x: number; y: number; width: number; height: number; pixels: [number, number] };

type Matrix = readonly [number, number, number, number, number, number];
const START: Matrix = [1, 0, 0, 1, 0, 0];
const times = ([a, b, c, d, e, f]: Matrix, [g, h, i, j, k, l]: Matrix): Matrix => [
  ...([g * a + h * c, g * b + h * d, i * a + j * c, i * b + j * d] as const),
  ...([k * a + l * c + e, k * b + l * d + f] as const),
];

/** The pictures on each page, by what the page asks a reader to draw. */
export async function readPictures(bytes: Uint8Array): Promise<PlacedPicture[][]> {
  const pdf = await open(bytes);
  const pages: PlacedPicture[][] = [];
  for (let n = 1; n <= pdf.numPages; n++) {
    const { fnArray, argsArray } = await (await pdf.getPage(n)).getOperatorList();
    const found: PlacedPicture[] = [];
    const saved: Matrix[] = [];
    let now = START;
    for (const [i, fn] of fnArray.entries()) {
      if (fn === OPS.save) saved.push(now);
      if (fn === OPS.restore) now = saved.pop() ?? START;
      if (fn === OPS.transform) now = times(now, argsArray[i] as unknown as Matrix);
      if (fn !== OPS.paintImageXObject) continue;
      const [a, , , d, x, y] = now;
      const [, width, height] = argsArray[i] as [string, number, number];
      found.push({ x: Math.min(x, x + a), y: Math.min(y, y + d), width: a, height: d, pixels: [width, height] });
    }
    pages.push(found);
  }
  await pdf.destroy();
  return pages;
}

/** How often a role stands in a tree. */
export function countRole(node: TagNode, role: string): number {
  const here = node.role === role ? 1 : 0;
  return here + (node.children ?? []).reduce((sum, child) => sum + countRole(child, role), 0);
}

/** The roles of a whole document, counted over its pages. */
export const rolesIn = (pages: readonly ReadPage[], role: string) =>
  pages.reduce((sum, page) => sum + countRole(page.tags, role), 0);

export function alternatives(node: TagNode): string[] {
  return [...(node.alt ? [node.alt] : []), ...(node.children ?? []).flatMap(alternatives)];
}

/** Pairs of texts that are printed over each other, and texts that leave the page's margins: both empty on a good page. */
export function layoutFaults(pages: readonly LaidPage[], margin = 41): string[] {
  return pages.flatMap((page, n) => {
    const outside = page.items
      .filter((i) => i.x < margin - 1 || i.x + i.width > page.width - margin + 1 || i.y < 20 || i.y > page.height - 30)
      .map((i) => `page ${n + 1}: "${i.text}" leaves the margins`);
    const overlapping = page.items.flatMap((a, i) =>
      page.items
        .slice(i + 1)
        .filter(
          (b) =>
            a.x < b.x + b.width - 0.5 &&
            b.x < a.x + a.width - 0.5 &&
            a.y < b.y + b.size * 0.6 &&
            b.y < a.y + a.size * 0.6,
        )
        .map((b) => `page ${n + 1}: "${a.text}" over "${b.text}"`),
    );
    return [...outside, ...overlapping];
  });
}
