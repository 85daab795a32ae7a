import { crc32, deflateSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import { LOGO_SIDE_MAX_PX, readLogo } from '../../../src/documents/pictures/logo.js';
import { decodePng, encodePng } from '../../../src/documents/pictures/png.js';
import { logoPng, pngChunk, pngOf } from '../../support/pictures.js';

const pixels = (png: Buffer) => [...decodePng(png, () => undefined).rgb];
const lines = (...rows: number[][]) => Buffer.from(rows.flatMap((row) => [0, ...row]));
const big = { width: 2, height: 1 };

// Each kind of pixel of the W3C's PNG specification, third edition, 11.2.1 and 13.12, worked out by hand.
describe('a PNG', () => {
  test.each<[string, Buffer, number[]]>([
    ['of one bit', pngOf({ ...big, depth: 1, colour: 0 }, lines([0b0100_0000])), [0, 0, 0, 255, 255, 255]],
    ['of two bits', pngOf({ ...big, depth: 2, colour: 0 }, lines([0b0111_0000])), [85, 85, 85, 255, 255, 255]],
    ['of four bits', pngOf({ ...big, depth: 4, colour: 0 }, lines([0x1f])), [17, 17, 17, 255, 255, 255]],
    ['of eight bits', pngOf({ ...big, colour: 0 }, lines([3, 250])), [3, 3, 3, 250, 250, 250]],
    ['of sixteen bits', pngOf({ ...big, depth: 16, colour: 0 }, lines([3, 7, 255, 255])), [3, 3, 3, 255, 255, 255]],
    ['in colours', pngOf({ ...big, colour: 2 }, lines([1, 2, 3, 4, 5, 6])), [1, 2, 3, 4, 5, 6]],
    [
      'in colours of sixteen bits',
      pngOf({ ...big, width: 1, depth: 16, colour: 2 }, lines([1, 0, 2, 0, 3, 0])),
      [1, 2, 3],
    ],
    [
      'of a palette, part of it clear',
      pngOf({ ...big, depth: 4, colour: 3 }, lines([0x10]), [
        pngChunk('PLTE', Buffer.from([9, 8, 7, 200, 100, 0])),
        pngChunk('tRNS', Buffer.from([255, 0])),
      ]),
      [255, 255, 255, 9, 8, 7],
    ],
    ['in grey with alpha', pngOf({ ...big, colour: 4 }, lines([0, 255, 0, 51])), [0, 0, 0, 204, 204, 204]],
    ['in colours with alpha', pngOf({ ...big, width: 1 }, lines([255, 0, 0, 51])), [255, 204, 204]],
    [
      'with alpha of sixteen bits',
      pngOf({ ...big, width: 1, depth: 16 }, lines([255, 255, 0, 0, 0, 0, 0x33, 0x33])),
      [255, 204, 204],
    ],
    [
      'with a grey that is clear',
      pngOf({ ...big, colour: 0 }, lines([3, 4]), [pngChunk('tRNS', Buffer.from([0, 3]))]),
      [255, 255, 255, 4, 4, 4],
    ],
    [
      'with a colour that is clear',
      pngOf({ ...big, colour: 2 }, lines([1, 2, 3, 1, 2, 4]), [pngChunk('tRNS', Buffer.from([0, 1, 0, 2, 0, 3]))]),
      [255, 255, 255, 1, 2, 4],
    ],
  ])('%s is read as it is seen on white paper', (_, png, seen) => {
    expect(pixels(png)).toEqual(seen);
  });
});

describe('the lines of a PNG', () => {
  // the specification, section 9: what each filter makes of these lines, by hand
  test('is read through each filter', () => {
    const filtered = [
      [0, 10, 20, 30],
      [1, 10, 10, 10], // from the left: 10, 20, 30
      [2, 1, 1, 1], // from above: 11, 21, 31
      [3, 0, 0, 0], // from half of both: 5, 13, 22
      [4, 1, 1, 1], // Paeth: 6, 14, 23
    ];
    const png = pngOf({ width: 3, height: 5, colour: 0 }, Buffer.from(filtered.flat()));
    expect(pixels(png).filter((_, i) => i % 3 === 0)).toEqual([
      10, 20, 30, 10, 20, 30, 11, 21, 31, 5, 13, 22, 6, 14, 23,
    ]);
  });

  // the specification, section 8.2: the pass in which each pixel of a square of 8 by 8 is sent
  test('that is interlaced is put together again', () => {
    const PASSES = '16462646 77777777 56565656 77777777 36463646 77777777 56565656 77777777'.split(' ');
    const value = (x: number, y: number) => y * 8 + x;
    const sent = [1, 2, 3, 4, 5, 6, 7].flatMap((pass) =>
      PASSES.flatMap((row, y) => {
        const found = [...row].flatMap((own, x) => (Number(own) === pass ? value(x, y) : []));
        return found.length === 0 ? [] : [0, ...found];
      }),
    );
    const png = pngOf({ width: 8, height: 8, colour: 0, interlaced: true }, Buffer.from(sent));
    expect(pixels(png).filter((_, i) => i % 3 === 0)).toEqual(Array.from({ length: 64 }, (_, i) => i));
  });

  test('is written so that it is read back the same, in grey where it has no colour', () => {
    const rgb = Buffer.from(Array.from({ length: 5 * 4 * 3 }, (_, i) => (i * 37 + (i % 7) * 11) % 256));
    const coloured = encodePng({ width: 5, height: 4, rgb });
    expect([...rgb]).toEqual(pixels(coloured));
    const grey = Buffer.from(Array.from({ length: 20 }, (_, i) => [i * 9, i * 9, i * 9]).flat());
    const small = encodePng({ width: 5, height: 4, rgb: grey });
    expect([pixels(small), small[25]]).toEqual([[...grey], 0]);
    expect(coloured[25]).toBe(2);
  });
});

describe('a PNG that is no picture', () => {
  const whole = logoPng(60, 30);
  const damaged = (at: number) => {
    const bytes = Buffer.from(whole);
    bytes[at] = (bytes[at] ?? 0) ^ 1;
    return bytes;
  };
  test.each<[string, Buffer]>([
    ['cut off', whole.subarray(0, whole.length - 20)],
    ['cut off in its head', whole.subarray(0, 20)],
    ['without an end', whole.subarray(0, whole.length - 12)],
    ['with one bit of its pixels changed', damaged(whole.length - 30)],
    ['with one bit of a checksum changed', damaged(whole.length - 1)],
    ['with too few lines', pngOf({ width: 2, height: 9, colour: 0 }, lines([1, 2]))],
    ['with too many lines', pngOf({ width: 2, height: 1, colour: 0 }, lines([1, 2], [1, 2]))],
    ['with a filter that is none', pngOf({ width: 2, height: 1, colour: 0 }, Buffer.from([5, 1, 2]))],
    [
      'that names a colour its palette lacks',
      pngOf({ ...big, colour: 3 }, lines([0, 9]), [pngChunk('PLTE', Buffer.alloc(3))]),
    ],
    ['of a palette without one', pngOf({ ...big, colour: 3 }, lines([0, 0]))],
    ['of no pixels', pngOf({ width: 0, height: 0 }, Buffer.alloc(0))],
  ])('%s is refused', (_, bytes) => {
    expect(() => readLogo(bytes)).toThrow(/damaged or cut off\. Save it again/);
  });
  test('of a kind that there is not is refused', () => {
    expect(() => readLogo(pngOf({ ...big, depth: 3 }, lines([0, 0])))).toThrow(/Save it again as PNG or JPEG/);
  });
  test('of a few bytes that would fill the memory is refused before it is unpacked', () => {
    const bomb = pngOf({ width: LOGO_SIDE_MAX_PX + 1, height: 1 }, Buffer.alloc(0));
    expect(() => readLogo(bomb)).toThrow(/1201 by 1 pixels\. Make it at most 1200 on each side/);
    const long = deflateSync(Buffer.alloc(50_000_000));
    expect(() =>
      readLogo(
        Buffer.concat([
          pngOf({ width: 1, height: 1 }, Buffer.alloc(5)).subarray(0, 33),
          pngChunk('IDAT', long),
          pngChunk('IEND', Buffer.alloc(0)),
        ]),
      ),
    ).toThrow(/damaged/);
  });
});

test('the checksum of a chunk is the one that the specification gives', () => {
  // the empty end of every PNG: AE 42 60 82 (specification, 11.2.4 and annex D)
  expect(crc32(Buffer.from('IEND'))).toBe(0xae426082);
  expect(encodePng({ width: 1, height: 1, rgb: Buffer.from([1, 2, 3]) }).subarray(-4)).toEqual(
    Buffer.from('ae426082', 'hex'),
  );
});
