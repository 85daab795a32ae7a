import { describe, expect, test } from 'vitest';
import { readLogo } from '../../../src/documents/pictures/logo.js';
import { decodePng } from '../../../src/documents/pictures/png.js';
import { COBALT, drawPng, pngChunk, pngOf } from '../../support/pictures.js';

describe('a logo', () => {
  test('keeps its pixels and nothing that is told beside them', () => {
    const secret = Buffer.from('Author\0Ines Duval, 7 Alder Lane', 'latin1');
    const says = pngOf({ width: 2, height: 1, colour: 2 }, Buffer.from([0, 1, 2, 3, 4, 5, 6]), [
      pngChunk('tEXt', secret),
      pngChunk('eXIf', secret),
    ]);
    const { image, mediaType, widthPx, heightPx } = readLogo(says);
    expect({ mediaType, widthPx, heightPx }).toEqual({ mediaType: 'image/png', widthPx: 2, heightPx: 1 });
    expect(Buffer.from(image).toString('latin1')).not.toContain('Duval');
    expect([...decodePng(Buffer.from(image), () => undefined).rgb]).toEqual([1, 2, 3, 4, 5, 6]);
  });
  test('that nobody would see on white paper is refused', () => {
    expect(() => readLogo(drawPng(40, 20, (x) => [255, 255, 255, x < 20 ? 255 : 0]))).toThrow(/light background/);
    expect(() => readLogo(drawPng(40, 20, (x) => (x < 20 ? COBALT : [255, 255, 255, 0])))).not.toThrow();
  });
  test('with more detail than papers can hold is refused', () => {
    let seed = 1;
    const noise = () => {
      seed = (seed * 48_271) % 2_147_483_647;
      return seed % 256;
    };
    expect(() => readLogo(drawPng(500, 500, () => [noise(), noise(), noise(), 255]))).toThrow(/too much detail/);
  });
  test.each(['', 'no picture', '<svg onload="alert(1)">', 'GIF89a', 'RIFF\x10\0\0\0WEBPVP8 '])(
    '%j is refused',
    (text) => {
      expect(() => readLogo(Buffer.from(text, 'latin1'))).toThrow(/Save/);
    },
  );
});
