import fc from 'fast-check';
import { describe, expect, test, vi } from 'vitest';
import { fontOf, printable, refuseUnprintable, unprintable, unprintableIn } from '../../src/documents/fonts.js';
import { plainReceipt } from './samples.js';

describe('what the font can print', () => {
  test.each(['Żółć', 'Ελένη Παπαδοπούλου', 'Наташа', 'Đặng Thị Ánh', 'O’Brien', 'Müller-Groß', '£ € ¥ zł Kč ₴'])(
    'prints %s',
    (name) => expect(unprintable(name)).toEqual([]),
  );
  test('prints a name whose accents come apart from their letters', () => {
    expect(unprintable('Żółć'.normalize('NFD'))).toEqual([]);
    expect(printable('Żółć'.normalize('NFD'))).toBe('Żółć');
  });
  test('names each character that it lacks once, and a joined emoji as one', () => {
    expect(unprintable('陶芸 Ines 陶 \u{1F469}‍\u{1F3A8}')).toEqual(['陶', '芸', '\u{1F469}‍\u{1F3A8}']);
    expect(unprintable('שרה')).toEqual(['ש', 'ר', 'ה']);
  });
  test('writes full-width signs in their usual width', () => {
    expect(printable('￥１２')).toBe('¥12');
  });
  test('finds them in a content, and says where', () => {
    const content = { payer: { name: '陶芸', addressLines: ['7 Alder Lane', 'X 山'] }, totalMinor: 1 };
    expect(unprintableIn(content)).toEqual([
      { pointer: '/payer/name', text: '陶芸', characters: ['陶', '芸'] },
      { pointer: '/payer/addressLines/1', text: 'X 山', characters: ['山'] },
    ]);
    expect(() => refuseUnprintable(content)).toThrow(/"陶芸" can't be printed: the font lacks 陶 芸/);
  });
  test('takes no sign of the usual alphabets for plain that a face lacks, or that is written otherwise', () => {
    const faces = (['light', 'regular', 'semibold'] as const).map(fontOf);
    const signs = Array.from({ length: 0x3000 - 0x20 }, (_, i) => String.fromCharCode(0x20 + i));
    const ofFont = (text: string) =>
      [...text].every((c) => faces.every((face) => face.hasGlyphForCodePoint(c.codePointAt(0) ?? 0)));
    expect(signs.filter((sign) => unprintable(sign).length === 0 && !ofFont(printable(sign)))).toEqual([]);
    expect(signs.filter((sign) => printable(sign) !== sign && ofFont(sign.normalize('NFC')))).toEqual(
      signs.filter((sign) => sign.normalize('NFC') !== sign && ofFont(sign.normalize('NFC'))),
    );
  });
  test('never lets through what a face lacks', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme' }), (text) => {
        fc.pre(unprintable(text).length === 0);
        for (const character of printable(text))
          for (const face of ['light', 'regular', 'semibold'] as const)
            expect(fontOf(face).hasGlyphForCodePoint(character.codePointAt(0) ?? 0)).toBe(true);
      }),
    );
  });
});

describe('what a glyph is read back as', () => {
  test.each([
    ['\u00a0', ' '], // a space that doesn't break shares its glyph
    ['\u00b5', 'μ'], // the micro sign, which would turn up in Greek names
    ['\u2126', 'Ω'],
    ['\u2010', '-'],
    ['\ufb00', 'ff'],
  ])('%j is %j', (sign, letters) => {
    const { codePoints } = fontOf('regular').glyphForCodePoint(sign.codePointAt(0) ?? 0);
    expect(String.fromCodePoint(...codePoints)).toBe(letters);
  });
  test('does not depend on what was printed before', async () => {
    const printed = async (...names: string[]) => {
      vi.resetModules(); // a fresh process, as far as the parsed fonts go
      const { renderReceipt } = await import('../../src/documents/receipt.js');
      const papers = names.map((name) => ({ ...plainReceipt, payer: { name, addressLines: [] } }));
      let last: Buffer = Buffer.alloc(0);
      for (const paper of papers) last = await renderReceipt(paper);
      return last;
    };
    const alone = await printed('Δημήτριος Ωμέγας');
    const afterOthers = await printed('Ines\u00a0Duval \u00b5 \u2126 \u2206', 'Δημήτριος Ωμέγας');
    expect(afterOthers.equals(alone)).toBe(true);
  });
});

test('a face is parsed once', () => {
  expect(fontOf('regular')).toBe(fontOf('regular'));
});
