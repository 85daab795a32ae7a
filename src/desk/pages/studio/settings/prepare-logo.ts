import { blobOf, drawOn } from '../../../forms/picture-canvas';

/** What the largest box on paper shows at 300 dots an inch, in pixels. */
const BOX = { width: 600, height: 240 };
/** A picture of a hundred megapixels would fill a phone's memory: its edges are looked for in a smaller one. */
const LONGEST_SIDE = 2400;
/** As light as that can't be told from white paper. */
const INVISIBLE = 250;
/** A PNG beyond this is a photo, which JPEG says in a fraction of it. */
const PNG_BYTES = 100_000;
const QUALITY = 0.92;

type Rectangle = { x: number; y: number; width: number; height: number };

/**
 * A logo as it goes onto papers: on white, without its white edges, as small as print needs. What the browser can't read goes as it is: the
 * server says what is wrong with it.
 */
export async function prepareLogo(file: Blob): Promise<Blob> {
  const image = await createImageBitmap(file).catch(() => null);
  if (!image) return file;
  const scale = Math.min(1, LONGEST_SIDE / Math.max(image.width, image.height));
  const onWhite = drawOn(image.width * scale, image.height * scale, (context, width, height) => {
    context.fillStyle = '#ffffff';
    context.fillRect(0, 0, width, height);
    context.drawImage(image, 0, 0, width, height);
  });
  image.close();
  const { x, y, width, height } = seenPart(onWhite);
  const fit = Math.min(1, BOX.width / width, BOX.height / height);
  const logo = drawOn(width * fit, height * fit, (context, wide, high) => {
    context.imageSmoothingQuality = 'high';
    context.drawImage(onWhite, x, y, width, height, 0, 0, wide, high);
  });
  const png = await blobOf(logo, 'image/png');
  if (png !== null && png.size <= PNG_BYTES) return png;
  return (await blobOf(logo, 'image/jpeg', QUALITY)) ?? file;
}

/** The smallest rectangle around all that can be seen on white; all of it where that is nothing. */
function seenPart(canvas: HTMLCanvasElement): Rectangle {
  const { width, height } = canvas;
  const pixels = canvas.getContext('2d')?.getImageData(0, 0, width, height).data ?? new Uint8ClampedArray();
  let [left, top, right, bottom] = [width, height, -1, -1];
  for (let at = 0; at < pixels.length; at += 4) {
    if ([0, 1, 2].every((k) => (pixels[at + k] ?? 255) >= INVISIBLE)) continue;
    const [x, y] = [(at / 4) % width, Math.floor(at / 4 / width)];
    left = Math.min(left, x);
    right = Math.max(right, x);
    top = Math.min(top, y);
    bottom = Math.max(bottom, y);
  }
  if (right < 0) return { x: 0, y: 0, width, height };
  return { x: left, y: top, width: right - left + 1, height: bottom - top + 1 };
}
