/** A canvas of whole pixels, at least one, on which something is drawn. */
export function drawOn(
  width: number,
  height: number,
  draw: (context: CanvasRenderingContext2D, width: number, height: number) => void,
): HTMLCanvasElement {
  const canvas = document.createElement('canvas');
  canvas.width = Math.max(1, Math.round(width));
  canvas.height = Math.max(1, Math.round(height));
  const context = canvas.getContext('2d');
  if (context) draw(context, canvas.width, canvas.height);
  return canvas;
}

/** The picture as a file, without anything that the camera or a program wrote into it. */
export const blobOf = (canvas: HTMLCanvasElement, type: string, quality?: number) =>
  new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, type, quality));
