import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import * as fontkit from 'fontkit';
import { describe, expect, it } from 'vitest';

const FOLDER = new URL('../../src/desk/ui/fonts/', import.meta.url);
const WHOLE = '@fontsource-variable/source-sans-3/files/source-sans-3-latin-ext-wght-normal.woff2';

const open = (bytes: Buffer) => fontkit.create(bytes) as fontkit.Font;
const bytes = readFileSync(new URL('european-letters.woff2', FOLDER));
const css = readFileSync(new URL('european-letters.css', FOLDER), 'utf8');
const ours = open(bytes);
const whole = open(readFileSync(createRequire(import.meta.url).resolve(WHOLE)));

/** What a browser takes from the font: every code of the style's unicode-range. */
const codes = [...css.matchAll(/U\+([0-9A-F]+)(?:-([0-9A-F]+))?/g)].flatMap(([, from = '', to = from]) => {
  const first = Number.parseInt(from, 16);
  return Array.from({ length: Number.parseInt(to, 16) - first + 1 }, (_, i) => first + i);
});

/** ı, Œ and œ: the font's Latin file has them. */
const IN_LATIN = [0x131, 0x152, 0x153];

/** Letters of alphabets beyond ISO 8859-1, which the Latin file has; from memory. */
const ALPHABETS = {
  Croatian: 'čćđšž',
  Czech: 'čďěňřšťůž',
  Esperanto: 'ĉĝĥĵŝŭ',
  Hungarian: 'őű',
  Latvian: 'āčēģīķļņšūž',
  Lithuanian: 'ąčęėįšųūž',
  Maltese: 'ċġħż',
  Polish: 'ąćęłńśźż',
  Romanian: 'ășț',
  Sami: 'čđŋšŧž',
  Slovak: 'čďĺľňŕšťž',
  Turkish: 'ğış',
  Welsh: 'ŵŷẁẃẅỳ',
};

describe('the letters of Europe', () => {
  it.each(Object.entries(ALPHABETS))('has those of %s, small and capital', (_, letters) => {
    const needed = [...(letters + letters.toUpperCase())].map((letter) => letter.codePointAt(0) ?? 0);
    const notInLatin = needed.filter((code) => code > 0xff && !IN_LATIN.includes(code));
    expect(notInLatin.filter((code) => !codes.includes(code))).toEqual([]);
  });

  it('draws each as the whole font does, thin and bold', () => {
    expect(codes.length).toBeGreaterThan(130);
    const shape = (font: fontkit.Font, code: number) => font.glyphForCodePoint(code).path.toSVG();
    for (const code of codes) expect(shape(ours, code), String.fromCodePoint(code)).toBe(shape(whole, code));
    expect(ours.variationAxes).toEqual(whole.variationAxes);
  });

  it('takes none from the browser that it cannot draw', () => {
    expect(codes.filter((code) => !ours.hasGlyphForCodePoint(code))).toEqual([]);
  });

  // SIL Open Font License 1.1, 3: no modified version may use the reserved name; 2: each copy has the copyright notice and the licence
  it('goes by a name of its own, with its makers’ notice and licence', () => {
    expect(ours.copyright).toContain('Adobe');
    expect(ours.familyName + ours.fullName + ours.postscriptName).not.toContain('Source');
    expect(whole.familyName).toContain('Source');
    expect(JSON.stringify((ours as unknown as { name: unknown }).name)).toContain('scripts.sil.org/OFL');
  });

  it('is a quarter of what the whole file takes', () => {
    expect(bytes.length).toBeLessThan(15_000);
  });
});
