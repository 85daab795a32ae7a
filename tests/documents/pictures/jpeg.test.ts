import { describe, expect, test } from 'vitest';
import { stripJpeg } from '../../../src/documents/pictures/jpeg.js';
import { readLogo } from '../../../src/documents/pictures/logo.js';
import { JPEG } from '../../support/pictures.js';

// ITU-T T.81, annex B: a segment is a marker, its length, and its bytes
const segment = (marker: number, data: Buffer) => {
  const head = Buffer.from([0xff, marker, 0, 0]);
  head.writeUInt16BE(data.length + 2, 2);
  return Buffer.concat([head, data]);
};
const withSegment = (...more: Buffer[]) => Buffer.concat([JPEG.subarray(0, 2), ...more, JPEG.subarray(2)]);
/** Exif 2.32, 4.6: a note of which way is up, by either order of bytes. */
const orientation = (order: 'II' | 'MM', value: number) => {
  const tiff = Buffer.alloc(26);
  const put = (number: number, at: number, size: number) =>
    order === 'II' ? tiff.writeUIntLE(number, at, size) : tiff.writeUIntBE(number, at, size);
  tiff.write(order, 'latin1');
  put(42, 2, 2);
  put(8, 4, 4);
  put(1, 8, 2);
  put(0x0112, 10, 2);
  put(3, 12, 2);
  put(1, 14, 4);
  put(value, 18, 2);
  return segment(0xe1, Buffer.concat([Buffer.from('Exif\0\0', 'latin1'), tiff]));
};

describe('a JPEG', () => {
  test('keeps what is needed to draw it, and no word of the camera', () => {
    const exif = segment(0xe1, Buffer.from('Exif\0\0where it was taken', 'latin1'));
    const comment = segment(0xfe, Buffer.from('by Ines Duval', 'latin1'));
    const clean = stripJpeg(withSegment(exif, comment));
    expect([clean.width, clean.height]).toEqual([48, 24]);
    expect(clean.bytes.toString('latin1')).not.toMatch(/Exif|Duval|JFIF|taken/);
    expect(clean.bytes).toEqual(stripJpeg(JPEG).bytes);
    expect(stripJpeg(clean.bytes).bytes).toEqual(clean.bytes);
  });
  test('keeps how its colours are meant', () => {
    const adobe = segment(0xee, Buffer.from('Adobe\0d\0\0\0\0\x01', 'latin1'));
    expect(stripJpeg(withSegment(adobe)).bytes.toString('latin1')).toContain('Adobe');
    expect(stripJpeg(withSegment(segment(0xee, Buffer.from('Ducky')))).bytes.toString('latin1')).not.toContain('Ducky');
  });
  test.each(['II', 'MM'] as const)('that lies on its side is refused (%s), one that is upright is not', (order) => {
    expect(() => readLogo(withSegment(orientation(order, 6)))).toThrow(/on its side.*Save it upright/);
    expect(readLogo(withSegment(orientation(order, 1)))).toMatchObject({ widthPx: 48, heightPx: 24 });
  });
  const frameAt = JPEG.indexOf(Buffer.from([0xff, 0xc0]));
  const changed = (at: number, value: number) => {
    const bytes = Buffer.from(JPEG);
    bytes[at] = value;
    return bytes;
  };
  test.each<[string, Buffer, RegExp]>([
    ['without its end', JPEG.subarray(0, JPEG.length - 2), /cut off/],
    ['cut off in its picture', JPEG.subarray(0, JPEG.length - 12), /cut off/],
    ['cut off in its head', JPEG.subarray(0, frameAt + 6), /cut off/],
    ['of two bytes', JPEG.subarray(0, 2), /cut off/],
    ['without a picture', Buffer.from([0xff, 0xd8, 0xff, 0xd9]), /cut off/],
    ['whose segment is longer than the file', changed(frameAt + 2, 0xff), /cut off/],
    ['that holds something else', changed(frameAt, 0x00), /cut off/],
    [
      'of no width',
      Buffer.concat([JPEG.subarray(0, frameAt + 7), Buffer.from([0, 0]), JPEG.subarray(frameAt + 9)]),
      /cut off/,
    ],
    ['without loss', changed(frameAt + 1, 0xc3), /PNG, or as a JPEG in RGB/],
    ['of twelve bits', changed(frameAt + 4, 12), /JPEG in RGB/],
    ['for a press', changed(frameAt + 9, 4), /JPEG in RGB/],
    [
      'that is too wide',
      Buffer.concat([JPEG.subarray(0, frameAt + 7), Buffer.from([0x10, 0]), JPEG.subarray(frameAt + 9)]),
      /4096 by 24 pixels/,
    ],
  ])('%s is refused', (_, bytes, words) => {
    expect(() => readLogo(bytes)).toThrow(words);
  });
});
