import { blobOf, drawOn } from '../../../forms/picture-canvas';

const LONGEST_SIDE = 1600; // px: a tile's crackle is seen, and a phone's photo fits through a slow line
const QUALITY = 0.85;

/**
 * A photo as it is kept: upright, small enough, and without what the camera wrote into it, such as where and when it was taken. What
 * the browser can't read goes as it is: the server says what is wrong with it.
 */
export async function toStoredPhoto(photo: File): Promise<Blob> {
  const image = await createImageBitmap(photo).catch(() => null);
  if (!image) return photo;
  const scale = Math.min(1, LONGEST_SIDE / Math.max(image.width, image.height));
  const canvas = drawOn(image.width * scale, image.height * scale, (context, width, height) =>
    context.drawImage(image, 0, 0, width, height),
  );
  image.close();
  return (await blobOf(canvas, 'image/jpeg', QUALITY)) ?? photo;
}
