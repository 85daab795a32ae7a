import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import * as fontkit from 'fontkit';
import { remember } from '../trade/maths/remember.js';

const FILES = {
  light: '300Light/SourceSans3_300Light.ttf',
  regular: '400Regular/SourceSans3_400Regular.ttf',
  semibold: '600SemiBold/SourceSans3_600SemiBold.ttf',
} as const;

export type Face = keyof typeof FILES;
export const FACES = Object.keys(FILES) as Face[];

const require = createRequire(import.meta.url);
const parsed = new Map<Face, fontkit.Font>();

/** A face of Source Sans 3, parsed once per process: parsing takes five times as long as setting a page with it. */
export function fontOf(face: Face): fontkit.Font {
  const known = parsed.get(face);
  if (known) return known;
  const font = fontkit.create(readFileSync(require.resolve(`@expo-google-fonts/source-sans-3/${FILES[face]}`)));
  if (font.type !== 'TTF') throw new Error(`${FILES[face]} holds no single font.`);
  nameGlyphs(font);
  keepWords(font);
  parsed.set(face, font);
  return font;
}

/**
 * Fixes which character each glyph stands for when the text is read back. fontkit keeps the first one that it met, so
 * that otherwise the bytes of a paper would depend on those printed before it, and "coffee" would be read with one letter for "ff".
 */
function nameGlyphs(font: fontkit.Font): void {
  const isPlain = (codePoint: number) => {
    const text = String.fromCodePoint(codePoint);
    return text.normalize('NFKC') === text;
  };
  const plainFirst = [...font.characterSet].sort((a, b) => Number(isPlain(b)) - Number(isPlain(a)) || a - b);
  for (const codePoint of plainFirst) {
    const glyph = font.glyphForCodePoint(codePoint);
    const isLigature = codePoint >= 0xfb00 && codePoint <= 0xfb06;
    if (isLigature) glyph.codePoints = [...String.fromCodePoint(codePoint).normalize('NFKC')].map(codePointOf);
  }
}

const WORDS_MAX = 20_000;

/**
 * Keeps words as they were laid out: ligatures and kerning take two fifths of all the time of a paper, and papers of one studio
 * repeat each other. pdfkit writes into what it is given, but no more than how many thousandths of an em the font's units are.
 */
function keepWords(font: fontkit.Font): void {
  if (font.unitsPerEm !== 1000) throw new Error('Words that were laid out may be kept only in thousandths of an em.');
  const layOut = font.layout.bind(font);
  const runs = remember<fontkit.GlyphRun>(WORDS_MAX);
  font.layout = (word, ...more) => {
    if (more.some((option) => option !== undefined)) return layOut(word, ...more);
    return runs(word, () => layOut(word));
  };
}

const codePointOf = (character: string) => character.codePointAt(0) ?? 0;
const hasGlyphs = (text: string) => [...text].every((c) => fontOf('regular').hasGlyphForCodePoint(codePointOf(c)));

/** What every face of the font has, and stays as it is: nearly all text, which is asked for many times on each paper. */
const PLAIN = /^[ -~\xa0-\xff–’“”]*$/;

/** The text as it is printed: composed, and full-width signs in their usual width where the font has only that. */
export function printable(text: string): string {
  if (PLAIN.test(text)) return text;
  return [...text.normalize('NFC')].map((c) => (hasGlyphs(c) ? c : c.normalize('NFKC'))).join('');
}

const characters = new Intl.Segmenter('en', { granularity: 'grapheme' });

/** The characters of a text that the font lacks, each once; empty where all of it can be printed. */
export function unprintable(text: string): string[] {
  if (PLAIN.test(text)) return [];
  const segments = [...characters.segment(printable(text))].map((s) => s.segment);
  return [...new Set(segments.filter((segment) => !hasGlyphs(segment)))];
}

export type UnprintableText = { pointer: string; text: string; characters: string[] };

/**
 * Every text in a document's content that the font can't print, with its JSON pointer, so that a service can name it
 * before anything is issued.
 */
export function unprintableIn(content: unknown, pointer = ''): UnprintableText[] {
  if (typeof content === 'string') {
    const missing = unprintable(content);
    return missing.length > 0 ? [{ pointer, text: content, characters: missing }] : [];
  }
  if (typeof content !== 'object' || content === null) return [];
  return Object.entries(content).flatMap(([key, value]) => unprintableIn(value, `${pointer}/${key}`));
}

/** Stops a rendering rather than print boxes where letters should stand. */
export function refuseUnprintable(content: unknown): void {
  const [first] = unprintableIn(content);
  if (!first) return;
  const signs = first.characters.join(' ');
  throw new RangeError(
    `"${first.text}" can't be printed: the font lacks ${signs}. Write it in Latin, Greek or Cyrillic.`,
  );
}
