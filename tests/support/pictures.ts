import { crc32, deflateSync } from 'node:zlib';

// Pictures for tests, drawn by code. The container is put together after the W3C's PNG specification (third edition, sections 5 and 11).

const SIGNATURE = Buffer.from('\x89PNG\r\n\x1a\n', 'latin1');

export function pngChunk(type: string, data: Buffer): Buffer {
  const body = Buffer.concat([Buffer.from(type, 'latin1'), data]);
  const length = Buffer.alloc(4);
  length.writeUInt32BE(data.length);
  const sum = Buffer.alloc(4);
  sum.writeUInt32BE(crc32(body));
  return Buffer.concat([length, body, sum]);
}

/** A PNG around lines of bytes, each of which begins with its filter. */
export function pngOf(
  { width, height, depth = 8, colour = 6, interlaced = false }: PngSays,
  lines: Buffer,
  more: readonly Buffer[] = [],
): Buffer {
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  head.set([depth, colour, 0, 0, Number(interlaced)], 8);
  const data = pngChunk('IDAT', deflateSync(lines));
  return Buffer.concat([SIGNATURE, pngChunk('IHDR', head), ...more, data, pngChunk('IEND', Buffer.alloc(0))]);
}
type PngSays = { width: number; height: number; depth?: number; colour?: number; interlaced?: boolean };

type Rgba = readonly [number, number, number, number];
const CLEAR: Rgba = [0, 0, 0, 0];
export const COBALT: Rgba = [0x1d, 0x4e, 0x9e, 255];
export const IRON: Rgba = [0xa3, 0x3b, 0x20, 255];

/** A PNG with an alpha channel, of which `at` says each pixel. */
export function drawPng(width: number, height: number, at: (x: number, y: number) => Rgba): Buffer {
  const lines = Array.from({ length: height }, (_, y) => [
    0,
    ...Array.from({ length: width }, (_, x) => at(x, y)).flat(),
  ]);
  return pngOf({ width, height }, Buffer.from(lines.flat()));
}

/** The mark of an invented studio: a bowl on its foot, in `colour`, on nothing. `width` to `height` is as asked for. */
export function logoPng(width = 320, height = 160, colour: Rgba = COBALT): Buffer {
  return drawPng(width, height, (px, py) => {
    const [x, y] = [Math.abs((px + 0.5) / width - 0.5) * 2, (py + 0.5) / height];
    const wall = y > 0.1 && y < 0.82 && x < Math.sqrt(1 - ((y - 0.1) / 0.74) ** 2);
    const foot = y >= 0.8 && y < 0.95 && x < 0.3;
    const band = y > 0.3 && y < 0.38; // unglazed
    return (wall && !band) || foot ? colour : CLEAR;
  });
}

/** 48 by 24 pixels, the left half cobalt: drawn on a canvas in Chromium 147 and saved by it as JPEG, which Node can't. */
export const JPEG = Buffer.from(
  '/9j/4AAQSkZJRgABAQAAAQABAAD/4gHYSUNDX1BST0ZJTEUAAQEAAAHIAAAAAAQwAABtbnRyUkdCIFhZWiAH4AABAAEAAAAAAABhY3NwAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAQAA9tYAAQAAAADTLQAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAlkZXNjAAAA8AAAACRyWFlaAAABFAAAABRnWFlaAAABKAAAABRiWFlaAAABPAAAABR3dHB0AAABUAAAABRyVFJDAAABZAAAAChnVFJDAAABZAAAAChiVFJDAAABZAAAAChjcHJ0AAABjAAAADxtbHVjAAAAAAAAAAEAAAAMZW5VUwAAAAgAAAAcAHMAUgBHAEJYWVogAAAAAAAAb6IAADj1AAADkFhZWiAAAAAAAABimQAAt4UAABjaWFlaIAAAAAAAACSgAAAPhAAAts9YWVogAAAAAAAA9tYAAQAAAADTLXBhcmEAAAAAAAQAAAACZmYAAPKnAAANWQAAE9AAAApbAAAAAAAAAABtbHVjAAAAAAAAAAEAAAAMZW5VUwAAACAAAAAcAEcAbwBvAGcAbABlACAASQBuAGMALgAgADIAMAAxADb/2wBDAAoHBwgHBgoICAgLCgoLDhgQDg0NDh0VFhEYIx8lJCIfIiEmKzcvJik0KSEiMEExNDk7Pj4+JS5ESUM8SDc9Pjv/2wBDAQoLCw4NDhwQEBw7KCIoOzs7Ozs7Ozs7Ozs7Ozs7Ozs7Ozs7Ozs7Ozs7Ozs7Ozs7Ozs7Ozs7Ozs7Ozs7Ozs7Ozv/wAARCAAYADADASIAAhEBAxEB/8QAFgABAQEAAAAAAAAAAAAAAAAAAAgG/8QAFBABAAAAAAAAAAAAAAAAAAAAAP/EABYBAQEBAAAAAAAAAAAAAAAAAAUEBv/EABoRAQABBQAAAAAAAAAAAAAAAAAEBUFCgcH/2gAMAwEAAhEDEQA/AMkA0wYUmmxSYyoY74ti3ABixNgDTBhSYDKhjvi2LcAGLH//2Q==',
  'base64',
);
