import { cutOff, NotAPicture } from './not-a-picture.js';

// Markers are those of ITU-T T.81, annex B.
const [SOI, EOI, SOS, DRI, DQT, DHT, APP1, APP14] = [0xd8, 0xd9, 0xda, 0xdd, 0xdb, 0xc4, 0xe1, 0xee];
const SOF_FIRST = 0xc0;
const SOF_LAST = 0xcf;
/** baseline, extended and progressive by Huffman: what every reader of PDF can draw */
const DRAWN_FRAMES = [0xc0, 0xc1, 0xc2];
/** among the numbers of frames, and none */
const NO_FRAMES = [DHT, 0xc8, 0xcc];

const OTHER_KIND =
  'This JPEG is of a kind that can’t be put on papers. Save it as PNG, or as a JPEG in RGB, and upload that.';

type Segment = { marker: number; from: number; to: number };

/**
 * A JPEG without what the camera or the program wrote beside the picture: of its segments only those stay that are needed to draw it.
 *
 * @throws NotAPicture where the file is damaged or cut off, or of a kind that PDF doesn't know
 */
export function stripJpeg(bytes: Buffer): { width: number; height: number; bytes: Buffer } {
  const segments = segmentsOf(bytes);
  const frame = segments.find(({ marker }) => marker >= SOF_FIRST && marker <= SOF_LAST && !NO_FRAMES.includes(marker));
  if (!frame || !segments.some(({ marker }) => marker === SOS)) throw cutOff();
  if (!DRAWN_FRAMES.includes(frame.marker)) throw new NotAPicture(OTHER_KIND);
  if (frame.to - frame.from < 10) throw cutOff();
  const [depth, components] = [bytes[frame.from + 4], bytes[frame.from + 9] ?? 0];
  if (depth !== 8 || ![1, 3].includes(components)) throw new NotAPicture(OTHER_KIND);
  if (segments.some((segment) => segment.marker === APP1 && isTurned(bytes.subarray(segment.from + 4, segment.to))))
    throw new NotAPicture(
      'This picture is saved on its side, with a note to turn it. Save it upright, and upload that.',
    );
  const [height, width] = [bytes.readUInt16BE(frame.from + 5), bytes.readUInt16BE(frame.from + 7)];
  if (height === 0 || width === 0) throw cutOff();
  const needed = [...DRAWN_FRAMES, DHT, DQT, DRI, SOS];
  const stay = segments.filter(
    ({ marker, from }) =>
      needed.includes(marker) || (marker === APP14 && bytes.toString('latin1', from + 4, from + 9) === 'Adobe'),
  );
  return {
    ...{ width, height },
    bytes: Buffer.concat([
      Buffer.from([0xff, SOI]),
      ...stay.map(({ from, to }) => bytes.subarray(from, to)),
      Buffer.from([0xff, EOI]),
    ]),
  };
}

/** All that stands between the beginning and the end of the picture; a scan's data belong to its segment. */
function segmentsOf(bytes: Buffer): Segment[] {
  const segments: Segment[] = [];
  for (let at = 2; at + 1 < bytes.length; ) {
    if (bytes[at] !== 0xff) throw cutOff();
    const marker = bytes[at + 1] ?? 0;
    if (marker === 0xff) {
      at += 1; // a fill byte
      continue;
    }
    if (marker === EOI) return segments;
    const isSegment = marker >= SOF_FIRST && !(marker >= 0xd0 && marker <= SOI) && at + 4 <= bytes.length;
    if (!isSegment) throw cutOff();
    const length = bytes.readUInt16BE(at + 2);
    const end = at + 2 + length;
    if (length < 2 || end > bytes.length) throw cutOff();
    const to = marker === SOS ? endOfScan(bytes, end) : end;
    segments.push({ marker, from: at, to });
    at = to;
  }
  throw cutOff();
}

/** Where the next marker stands that is neither a byte 255 of the data nor a restart. */
function endOfScan(bytes: Buffer, from: number): number {
  for (let at = bytes.indexOf(0xff, from); at >= 0 && at + 1 < bytes.length; at = bytes.indexOf(0xff, at + 1)) {
    const next = bytes[at + 1] ?? 0;
    if (next !== 0 && next !== 0xff && !(next >= 0xd0 && next <= 0xd7)) return at;
  }
  throw cutOff();
}

const ORIENTATION = 0x0112;

/** Does the camera's note (Exif 2.32, 4.6.4) ask for the picture to be turned? The note itself is left behind. */
function isTurned(app1: Buffer): boolean {
  if (app1.toString('latin1', 0, 6) !== 'Exif\0\0') return false;
  const tiff = app1.subarray(6);
  const little = tiff.toString('latin1', 0, 2) === 'II';
  const number = (at: number, size: 2 | 4) => {
    if (at < 0 || at + size > tiff.length) return 0;
    return little ? tiff.readUIntLE(at, size) : tiff.readUIntBE(at, size);
  };
  const table = number(4, 4);
  for (let i = 0; i < number(table, 2); i++) {
    const entry = table + 2 + i * 12;
    if (number(entry, 2) === ORIENTATION) return number(entry + 8, 2) > 1;
  }
  return false;
}
