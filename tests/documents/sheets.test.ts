import { describe, expect, test } from 'vitest';
import { readLogo } from '../../src/documents/pictures/logo.js';
import type { PaperSize } from '../../src/documents/sheet.js';
import { JPEG, logoPng } from '../support/pictures.js';
import { type Look, PAPERS, paperCalled } from './papers.js';
import { alternatives, layoutFaults, readBack, readPictures } from './read-back.js';
import { LONG_NAME, LONG_WORD, registered } from './samples.js';

const MM = 72 / 25.4;
const INCH = 72;
// ISO 216:2007: A4 is 210 mm by 297 mm, A5 148 mm by 210 mm. ANSI/ASME Y14.1, size A (Letter): 8.5 in by 11 in; half of it is
// 5.5 in by 8.5 in
const EDGES = {
  A4: { whole: [210 * MM, 297 * MM], half: [148 * MM, 210 * MM] },
  LETTER: { whole: [8.5 * INCH, 11 * INCH], half: [5.5 * INCH, 8.5 * INCH] },
} as const;
/** Most printers leave a quarter of an inch blank; half an inch is common practice. */
const MARGIN = INCH / 2;

const [wide, tall, photo] = [logoPng(400, 100), logoPng(100, 200), JPEG].map(readLogo) as [Logo, Logo, Logo];
type Logo = ReturnType<typeof readLogo>;
const SIZES: PaperSize[] = ['A4', 'LETTER'];
const each = SIZES.flatMap((size) => Object.keys(PAPERS).map((name) => [name, size] as const));

function draw(name: string, look: Look, logo?: Logo): Promise<Buffer> {
  const { draw } = paperCalled(name);
  return draw({ ...look, ...(logo && { logo: logo.sha256 }) }, logo?.image);
}

describe.each(each)('a %s on %s', (name, paperSize) => {
  const { sheet } = paperCalled(name);

  test('is as large as its standard says, and nothing leaves the margins of any page', async () => {
    const { pages } = await readBack(await draw(name, { paperSize }));
    const [width, height] = EDGES[paperSize][sheet];
    for (const page of pages) {
      expect(Math.abs(page.width - width)).toBeLessThan(0.01);
      expect(Math.abs(page.height - height)).toBeLessThan(0.01);
    }
    expect(layoutFaults(pages, MARGIN)).toEqual([]);
  });

  test.each([
    ['a wide logo', wide],
    ['a tall one', tall],
    ['one in JPEG', photo],
  ])('shows %s in its box, undistorted and over nothing', async (_, logo) => {
    const bytes = await draw(name, { paperSize }, logo);
    const [{ pages, text }, pictures] = [await readBack(bytes), await readPictures(bytes)];
    const [most, high] = sheet === 'half' || name === 'labels' ? [88, 40] : [140, 56];
    expect(pictures[0]?.length).toBeGreaterThan(0);
    for (const [n, page] of pages.entries())
      for (const { x, y, width, height, pixels } of pictures[n] ?? []) {
        expect(pixels).toEqual([logo.widthPx, logo.heightPx]);
        expect(width / height).toBeCloseTo(logo.widthPx / logo.heightPx, 3);
        expect(width).toBeLessThanOrEqual(most + 0.01);
        expect(height).toBeLessThanOrEqual(high + 0.01);
        expect(Math.max(width / most, height / high)).toBeCloseTo(1, 3); // as large as fits
        expect(Math.min(x, page.width - x - width, y, page.height - y - height)).toBeGreaterThanOrEqual(MARGIN - 0.01);
        const under = page.items.filter(
          (item) =>
            item.x < x + width && item.x + item.width > x && item.y < y + height && item.y + item.size * 0.6 > y,
        );
        expect(under.map((item) => item.text)).toEqual([]);
      }
    expect(layoutFaults(pages, MARGIN)).toEqual([]);
    expect(pages.flatMap((page) => alternatives(page.tags))).toContain('Logo of Alder Lane Pottery');
    if (name !== 'labels') for (const part of ['7 Alder Lane', '01632 960 118']) expect(text).toContain(part);
    expect(bytes).toEqual(await draw(name, { paperSize }, logo));
  });

  test('takes very long names beside a logo', async () => {
    const long = [
      { ...registered, name: LONG_NAME },
      {
        ...registered,
        name: LONG_WORD,
        addressLines: Array(8).fill(LONG_NAME),
        email: `${'e'.repeat(60)}@example.org`,
      },
    ];
    for (const studio of long) {
      const bytes = await draw(name, { paperSize, studio }, tall);
      const { pages } = await readBack(bytes);
      expect(layoutFaults(pages, MARGIN)).toEqual([]);
      const [logo] = (await readPictures(bytes))[0] ?? [];
      const beside = pages[0]?.items.filter(
        (item) => logo && item.x < logo.x + logo.width && item.x + item.width > logo.x,
      );
      expect(
        beside?.filter((item) => logo && item.y + item.size * 0.6 > logo.y && item.y < logo.y + logo.height),
      ).toEqual([]);
    }
  });
});

describe('a paper that was issued before sheets and logos could be chosen', () => {
  test.each(Object.keys(PAPERS))('a %s is on A4 and has no logo, whatever it is drawn with', async (name) => {
    const [before, given] = [await draw(name, {}), await paperCalled(name).draw({}, wide.image)];
    const [page] = (await readBack(before)).pages;
    const [width] = EDGES.A4[paperCalled(name).sheet];
    expect(Math.abs((page?.width ?? 0) - width)).toBeLessThan(0.01);
    expect(given).toEqual(before);
  });
});

describe('a paper that names a logo', () => {
  test('is not drawn with another, or without', async () => {
    const { draw } = paperCalled('receipt');
    await expect(draw({ logo: wide.sha256 }, tall.image)).rejects.toThrow(
      /not the logo that the paper was issued with/,
    );
    await expect(draw({ logo: wide.sha256 })).rejects.toThrow(RangeError);
    await expect(draw({ logo: 'anything' }, wide.image)).rejects.toThrow();
  });
  test('holds it once, however often it is printed', async () => {
    const count = (bytes: Buffer) => bytes.toString('latin1').split('/Subtype /Image').length - 1;
    expect(count(await draw('labels', {}, wide))).toBe(1);
    expect((await readPictures(await draw('labels', {}, wide))).flat()).toHaveLength(9);
  });
});
