// npm run fonts: writes the letters of Europe's Latin alphabets, out of Source Sans 3's extended Latin, as a font of their own. The whole
// file is 60 kB, and one name with a "ć" made every page send it; these are a quarter of it. Run it again after an update of the font.
import { readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import subsetFont from 'subset-font';

const FONT = '@fontsource-variable/source-sans-3/files/source-sans-3-latin-ext-wght-normal.woff2';
const TO = new URL('../src/desk/ui/fonts/', import.meta.url);

/** Latin Extended-A but for ı, Œ and œ, which the Latin file has; Romanian; Welsh; the German capital ß. The vowels of Pinyin come with them, since they are few. */
const RANGES = [
  [0x100, 0x130],
  [0x132, 0x151],
  [0x154, 0x17f],
  [0x1cd, 0x1dc],
  [0x218, 0x21b],
  [0x1e80, 0x1e85],
  [0x1e9e, 0x1e9e],
  [0x1ef2, 0x1ef3],
];

/** What the copyright, the licence and its address are kept under in a font's table of names (OpenType, "name"). */
const NOTICES = [0, 13, 14];

const hex = (code) => code.toString(16).toUpperCase().padStart(4, '0');
const rangeOf = ([from, to]) => `U+${hex(from)}${to > from ? `-${hex(to)}` : ''}`;
const lettersOf = ([from, to]) => Array.from({ length: to - from + 1 }, (_, i) => String.fromCodePoint(from + i));

/** The Open Font License keeps the name "Source" for the font as its makers drew it: what was taken out of it goes by another. */
function rename(sfnt) {
  const view = new DataView(sfnt.buffer, sfnt.byteOffset, sfnt.byteLength);
  const tables = Array.from({ length: view.getUint16(4) }, (_, i) => 12 + i * 16);
  const table = tables.find((at) => sfnt.toString('latin1', at, at + 4) === 'name');
  const names = view.getUint32(table + 8);
  const strings = names + view.getUint16(names + 4);
  for (let i = 0, at = names + 6; i < view.getUint16(names + 2); i++, at += 12) {
    if (NOTICES.includes(view.getUint16(at + 6))) continue;
    const text = sfnt.subarray(strings + view.getUint16(at + 10)).subarray(0, view.getUint16(at + 8));
    const name = Buffer.from(text).swap16().toString('utf16le').replaceAll('Source', 'Subset'); // as long as it was
    text.set(Buffer.from(name, 'utf16le').swap16());
  }
  return sfnt;
}

const whole = readFileSync(createRequire(import.meta.url).resolve(FONT));
const letters = RANGES.flatMap(lettersOf).join('');
const sfnt = await subsetFont(whole, letters, { targetFormat: 'truetype', preserveNameIds: NOTICES });
// once more, since that works out the sums that a font keeps of its own tables
const font = await subsetFont(rename(sfnt), letters, { targetFormat: 'woff2', preserveNameIds: NOTICES });
writeFileSync(new URL('european-letters.woff2', TO), font);
writeFileSync(
  new URL('european-letters.css', TO),
  `/* written by npm run fonts */
@font-face {
  font-family: "European letters";
  font-style: normal;
  font-display: swap;
  font-weight: 200 900;
  src: url("./european-letters.woff2") format("woff2-variations");
  unicode-range: ${RANGES.map(rangeOf).join(', ')};
}
`,
);
