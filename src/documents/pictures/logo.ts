import { createHash } from 'node:crypto';
import { stripJpeg } from './jpeg.js';
import { cutOff, NotAPicture } from './not-a-picture.js';
import { decodePng, encodePng, PNG_SIGNATURE } from './png.js';

/** In the file that is sent, and in what is made of it: it goes into every paper. */
export const LOGO_BYTES_MAX = 500_000;
/** On the longer side: twice what a printer of 300 dots an inch shows of it. */
export const LOGO_SIDE_MAX_PX = 1200;

export type Logo = {
  sha256: string;
  mediaType: 'image/png' | 'image/jpeg';
  image: Uint8Array<ArrayBuffer>;
  widthPx: number;
  heightPx: number;
};

/**
 * A logo as it goes onto papers: pixels and nothing else, a PNG as it is seen on white paper.
 *
 * @throws NotAPicture with what is wrong and what to do
 */
export function readLogo(bytes: Buffer): Logo {
  if (bytes.subarray(0, PNG_SIGNATURE.length).equals(PNG_SIGNATURE)) {
    const picture = decodePng(bytes, assertSize);
    if (picture.rgb.every((value) => value >= INVISIBLE))
      throw new NotAPicture(
        'On white paper nothing of this logo would be seen. Upload the one that is meant for a light background.',
      );
    return logoOf('image/png', picture, encodePng(picture));
  }
  if (bytes[0] === 0xff && bytes[1] === 0xd8) {
    const picture = stripJpeg(bytes);
    assertSize(picture);
    return logoOf('image/jpeg', picture, picture.bytes);
  }
  if (bytes.length === 0) throw cutOff();
  throw new NotAPicture('This is not a PNG or a JPEG. Save the logo as one of these, and upload that file.');
}

/** As light as that can't be told from white paper. */
const INVISIBLE = 250;

function assertSize({ width, height }: { width: number; height: number }): void {
  if (Math.max(width, height) > LOGO_SIDE_MAX_PX)
    throw new NotAPicture(
      `The logo is ${width} by ${height} pixels. Make it at most ${LOGO_SIDE_MAX_PX} on each side, and upload it again.`,
    );
}

function logoOf(
  mediaType: Logo['mediaType'],
  { width, height }: { width: number; height: number },
  bytes: Buffer,
): Logo {
  if (bytes.length > LOGO_BYTES_MAX)
    throw new NotAPicture('The logo has too much detail to go onto every paper. Make it smaller, and upload it again.');
  const sha256 = createHash('sha256').update(bytes).digest('hex');
  return { sha256, mediaType, image: Uint8Array.from(bytes), widthPx: width, heightPx: height };
}
