import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import * as fontkit from 'fontkit';
import PDFDocument from 'pdfkit';

const FILE = '@expo-google-fonts/source-sans-3/400Regular/SourceSans3_400Regular.ttf';
const font = fontkit.create(readFileSync(createRequire(import.meta.url).resolve(FILE)));

/** The same words by pdfkit alone: one face, parsed once, one size, pdfkit's own line breaks; no tables, rules, boards, tags or sums of heights. */
export async function plainPaper(pages: readonly string[]): Promise<Buffer> {
  const doc = new PDFDocument({ size: 'A5', margin: 42, font: '' });
  doc.registerFont('regular', font as unknown as Uint8Array).font('regular', 9.5);
  for (const [i, words] of pages.entries()) {
    if (i > 0) doc.addPage();
    doc.text(words);
  }
  doc.end();
  const chunks: Buffer[] = [];
  for await (const chunk of doc) chunks.push(Buffer.from(chunk));
  return Buffer.concat(chunks);
}
