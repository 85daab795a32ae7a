import { getDocument, OPS } from 'pdfjs-dist/legacy/build/pdf.mjs';

/** A leaf or branch of a page's structure tree, as pdfjs gives it. */
export type TagNode = { role?: string; alt?: string; type?: string; id?: string; children?: TagNode[] };
export type PrintedText = { text: string; x: number; y: number; width: number; size: number };

export type ReadPage = {
  text: string;
  spoken: string[];
  items: PrintedText[];
  tags: TagNode;
  artefacts: number;
  width: number;
  height: number;
};

/** Reads a PDF with another library than the one that wrote it. */
export async function readBack(bytes: Uint8Array) {
  const pdf = await getDocument({ data: new Uint8Array(bytes), useSystemFonts: false, verbosity: 0 }).promise;
  const { info, metadata } = await pdf.getMetadata();
  const pages: ReadPage[] = [];
  for (let n = 1; n <= pdf.numPages; n++) {
    const page = await pdf.getPage(n);
    const { items } = await page.getTextContent({ includeMarkedContent: true });
    const printed = items.flatMap((item): PrintedText[] => {
      if (!('str' in item) || item.str.trim() === '') return [];
      const [, , , size = 0, x = 0, y = 0] = item.transform as number[];
      return [{ text: item.str, x, y, width: item.width, size }];
    });
    const view = page.view as number[];
    pages.push({
      text: items
        .map((item) => ('str' in item ? item.str + (item.hasEOL ? ' ' : '') : ' '))
        .join('')
        .replace(/\s+/g, ' '),
      spoken: spokenIn(await page.getOperatorList()),
      items: printed,
      tags: onThisPage((await page.getStructTree()) as TagNode),
      artefacts: items.filter((item) => 'tag' in item && item.tag === 'Artifact').length,
      width: view[2] ?? 0,
      height: view[3] ?? 0,
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
export function layoutFaults(pages: readonly ReadPage[], margin = 41): string[] {
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
