import { crc32, deflateSync, inflateSync } from 'node:zlib';
import { cutOff, NotAPicture } from './not-a-picture.js';
import { filter, unfilter } from './png-filters.js';

// Names and numbers are those of the standard: W3C, Portable Network Graphics (PNG) Specification, third edition.

export const PNG_SIGNATURE = Buffer.from('\x89PNG\r\n\x1a\n', 'latin1');

/** Each with the colour type that stands for it, and its samples a pixel. */
const CHANNELS: Record<number, number> = { 0: 1, 2: 3, 3: 1, 4: 2, 6: 4 };
const PALETTE = 3;
const DEPTHS: Record<number, readonly number[]> = {
  0: [1, 2, 4, 8, 16],
  2: [8, 16],
  3: [1, 2, 4, 8],
  4: [8, 16],
  6: [8, 16],
};

type Pass = { x: number; y: number; dx: number; dy: number };
const WHOLE: readonly Pass[] = [{ x: 0, y: 0, dx: 1, dy: 1 }];
const ADAM7: readonly Pass[] = [
  { x: 0, y: 0, dx: 8, dy: 8 },
  { x: 4, y: 0, dx: 8, dy: 8 },
  { x: 0, y: 4, dx: 4, dy: 8 },
  { x: 2, y: 0, dx: 4, dy: 4 },
  { x: 0, y: 2, dx: 2, dy: 4 },
  { x: 1, y: 0, dx: 2, dy: 2 },
  { x: 0, y: 1, dx: 1, dy: 2 },
];

export type PngHead = { width: number; height: number; depth: number; colour: number; interlaced: boolean };
type Chunk = { type: string; data: Buffer };

/** The chunks of a PNG up to its end, each with the checksum that it says. @throws NotAPicture */
function chunksOf(bytes: Buffer): Chunk[] {
  const chunks: Chunk[] = [];
  for (let at = PNG_SIGNATURE.length; at + 12 <= bytes.length; ) {
    const end = at + 8 + bytes.readUInt32BE(at);
    if (end + 4 > bytes.length || crc32(bytes.subarray(at + 4, end)) !== bytes.readUInt32BE(end)) throw cutOff();
    const chunk = { type: bytes.toString('latin1', at + 4, at + 8), data: bytes.subarray(at + 8, end) };
    chunks.push(chunk);
    if (chunk.type === 'IEND') return chunks;
    at = end + 4;
  }
  throw cutOff();
}

function headOf([first]: readonly Chunk[]): PngHead {
  if (first?.type !== 'IHDR' || first.data.length !== 13) throw cutOff();
  const [depth = 0, colour = 0, compression, filter, interlace = 0] = first.data.subarray(8);
  const isKnown = DEPTHS[colour]?.includes(depth) && compression === 0 && filter === 0 && interlace <= 1;
  if (!isKnown)
    throw new NotAPicture('This PNG is of a kind that no program should make. Save it again as PNG or JPEG.');
  const [width, height] = [first.data.readUInt32BE(0), first.data.readUInt32BE(4)];
  return { width, height, depth, colour, interlaced: interlace === 1 };
}

/**
 * The pixels of a PNG as they are seen on white paper: three bytes each. All that a PNG tells beside them is left behind.
 *
 * @param allow throws where the picture is larger than is wanted, before its pixels are unpacked
 * @throws NotAPicture where the file is damaged or cut off
 */
export function decodePng(
  bytes: Buffer,
  allow: (head: PngHead) => void,
): { width: number; height: number; rgb: Buffer } {
  const chunks = chunksOf(bytes);
  const head = headOf(chunks);
  if (head.width === 0 || head.height === 0) throw cutOff();
  allow(head);
  const of = (type: string) => chunks.filter((chunk) => chunk.type === type).map(({ data }) => data);
  const [palette, seeThrough] = [of('PLTE')[0], of('tRNS')[0]];
  if (head.colour === PALETTE && palette === undefined) throw cutOff();
  const rgb = Buffer.alloc(head.width * head.height * 3);
  const toWhite = painter(head, palette, seeThrough, rgb);
  const passes = passesOf(head);
  const packed = unpack(Buffer.concat(of('IDAT')), passes);
  let at = 0;
  for (const { x, y, dx, dy, columns, rows, rowBytes } of passes) {
    const end = at + rows * (rowBytes + 1);
    if (
      !unfilter(packed.subarray(at, end), rowBytes, Math.max(1, (CHANNELS[head.colour] as number) * (head.depth >> 3)))
    )
      throw cutOff();
    for (let row = 0; row < rows; row++) {
      const line = packed.subarray(at + row * (rowBytes + 1) + 1, at + (row + 1) * (rowBytes + 1));
      for (let column = 0; column < columns; column++)
        toWhite(line, column, (y + row * dy) * head.width + x + column * dx);
    }
    at = end;
  }
  return { width: head.width, height: head.height, rgb };
}

function passesOf({ width, height, depth, colour, interlaced }: PngHead) {
  return (interlaced ? ADAM7 : WHOLE)
    .map((pass) => {
      const columns = Math.max(0, Math.ceil((width - pass.x) / pass.dx));
      const rows = Math.max(0, Math.ceil((height - pass.y) / pass.dy));
      return { ...pass, columns, rows, rowBytes: Math.ceil((columns * (CHANNELS[colour] as number) * depth) / 8) };
    })
    .filter(({ columns, rows }) => columns > 0 && rows > 0);
}

/** Exactly as many bytes as the picture has: a small file can't fill the memory. */
function unpack(idat: Buffer, passes: readonly { rows: number; rowBytes: number }[]): Buffer {
  const length = passes.reduce((sum, { rows, rowBytes }) => sum + rows * (rowBytes + 1), 0);
  try {
    const packed = inflateSync(idat, { maxOutputLength: length });
    if (packed.length === length) return packed;
  } catch {
    // the stream is broken, or longer than the picture
  }
  throw cutOff();
}

type Paint = (line: Buffer, column: number, pixel: number) => void;

/** Puts a pixel of a line onto white paper. It is called for each, and so makes no objects. */
function painter(
  { depth, colour }: PngHead,
  palette: Buffer | undefined,
  seeThrough: Buffer | undefined,
  rgb: Buffer,
): Paint {
  const channels = CHANNELS[colour] as number;
  const most = 2 ** depth - 1;
  const sample = (line: Buffer, i: number): number => {
    if (depth === 16) return line.readUInt16BE(i * 2);
    if (depth === 8) return line[i] ?? 0;
    return ((line[(i * depth) >> 3] ?? 0) >> (8 - depth - ((i * depth) & 7))) & most;
  };
  const put = (at: number, value: number, alpha: number) => {
    rgb[at] = Math.round(255 * (1 - alpha + alpha * value));
  };
  if (colour === PALETTE)
    return (line, column, pixel) => {
      const entry = sample(line, column);
      if (palette === undefined || entry * 3 + 2 >= palette.length) throw cutOff();
      const alpha = (seeThrough?.[entry] ?? 255) / 255;
      for (let k = 0; k < 3; k++) put(pixel * 3 + k, (palette[entry * 3 + k] ?? 0) / 255, alpha);
    };
  const colours = channels < 3 ? 1 : 3;
  /** without an alpha channel, the one colour that is to be seen through */
  const clear = seeThrough !== undefined && seeThrough.length >= colours * 2 ? seeThrough : null;
  return (line, column, pixel) => {
    const first = column * channels;
    let alpha = channels > colours ? sample(line, first + colours) / most : 1;
    if (clear !== null && channels === colours) {
      let same = 0;
      for (let k = 0; k < colours; k++) if (sample(line, first + k) === clear.readUInt16BE(k * 2)) same++;
      if (same === colours) alpha = 0;
    }
    for (let k = 0; k < 3; k++) put(pixel * 3 + k, sample(line, first + (colours === 3 ? k : 0)) / most, alpha);
  };
}

/** Writes pixels of three bytes as a PNG of their own and nothing else, in grey where they have no colour. */
export function encodePng({ width, height, rgb }: { width: number; height: number; rgb: Buffer }): Buffer {
  const isGrey = rgb.every((value, i) => value === rgb[i - (i % 3)]);
  const channels = isGrey ? 1 : 3;
  const pixels = isGrey ? rgb.filter((_, i) => i % 3 === 0) : rgb;
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  head.set([8, isGrey ? 0 : 2, 0, 0, 0], 8);
  const filtered = filter(Buffer.from(pixels), width * channels, channels);
  return Buffer.concat([
    PNG_SIGNATURE,
    chunk('IHDR', head),
    chunk('IDAT', deflateSync(filtered, { level: 9 })),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}

function chunk(type: string, data: Buffer): Buffer {
  const body = Buffer.concat([Buffer.from(type, 'latin1'), data]);
  const [length, sum] = [Buffer.alloc(4), Buffer.alloc(4)];
  length.writeUInt32BE(data.length);
  sum.writeUInt32BE(crc32(body));
  return Buffer.concat([length, body, sum]);
}
