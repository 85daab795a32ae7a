import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { boxVolumeMm3, FIRING_KINDS, kilnRoomMm3 } from '../../../src/trade/firing/kiln-room.js';
import { VESSEL_SHAPES } from '../../../src/trade/materials/vessel-shapes.js';

const side = fc.integer({ min: 1, max: 2000 });
const sizes = fc.record({ widthMm: side, depthMm: side, heightMm: side });
const of = (widthMm: number, depthMm: number, heightMm: number) => ({ widthMm, depthMm, heightMm });

describe('a box', () => {
  test('is the bounding box with the gap once each way', () => {
    expect(boxVolumeMm3(of(100, 90, 120), 6)).toBe(106 * 96 * 126);
  });

  test('counts each dimension at least 50 mm, once the gap is added', () => {
    expect(boxVolumeMm3(of(220, 220, 25), 10)).toBe(230 * 230 * 50);
    expect(boxVolumeMm3(of(45, 45, 45), 10)).toBe(55 ** 3);
    expect(boxVolumeMm3(of(1, 1, 1), 0)).toBe(50 ** 3);
  });

  test('is whole, and never less for a larger piece', () => {
    fc.assert(
      fc.property(sizes, fc.integer({ min: 0, max: 100 }), (size, gap) => {
        const volume = boxVolumeMm3(size, gap);
        expect(Number.isSafeInteger(volume)).toBe(true);
        const taller = { ...size, heightMm: Math.min(2000, size.heightMm + 10) };
        expect(boxVolumeMm3(taller, gap)).toBeGreaterThanOrEqual(volume);
      }),
    );
  });

  test.each([of(0, 10, 10), of(10, 2001, 10), of(10, 10, -5), of(10, 10, Number.NaN)])('refuses %j', (size) => {
    expect(() => boxVolumeMm3(size, 5)).toThrow(/ in mm must/);
  });
});

describe('the room of ware in a firing', () => {
  const mug = { form: 'mug' as const, ...of(120, 88, 95), firingShrinkagePercent: '6' };

  test('is that of its size when it goes in: dry, bisqued, fired', () => {
    // dry it is 1 / 0.94 of its fired size, bisqued one percent less than dry
    expect(kilnRoomMm3(mug, 'bisque')).toBe(Math.round((120 * 88 * 95) / 0.94 ** 3));
    const bisqued = [120, 88, 95].map((mm) => (mm / 0.94) * 0.99 + 6);
    expect(kilnRoomMm3(mug, 'glaze')).toBe(Math.round(bisqued.reduce((volume, mm) => volume * mm, 1)));
    expect(kilnRoomMm3(mug, 'lustre')).toBe(126 * 94 * 101);
  });

  test('takes a likely shrinkage where nobody entered that of the clay', () => {
    expect(kilnRoomMm3({ ...mug, firingShrinkagePercent: null }, 'bisque')).toBe(
      Math.round((120 * 88 * 95) / 0.935 ** 3),
    );
  });

  test('never takes bisque for smaller than fired, of a clay that does not shrink', () => {
    expect(kilnRoomMm3({ ...mug, firingShrinkagePercent: '0' }, 'glaze')).toBe(126 * 94 * 101);
  });

  test('shares a stack of three in the bisque among those that stand in it', () => {
    const bowl = { form: 'bowl' as const, ...of(160, 160, 75), firingShrinkagePercent: '0' };
    expect(kilnRoomMm3(bowl, 'bisque')).toBe(Math.round((160 * 160 * 75 * 1.7) / 3));
    expect(kilnRoomMm3({ ...bowl, form: 'jar' }, 'bisque')).toBe(160 * 160 * 75);
    // three tiles of 8 mm are 24 high, and pay for the 50 mm that a layer takes at least
    const tile = { form: 'tile' as const, ...of(100, 100, 8), firingShrinkagePercent: '0' };
    expect(kilnRoomMm3(tile, 'bisque')).toBe(Math.round((100 * 100 * 50) / 3));
  });

  test('is whole and above nothing for whatever can be noted', () => {
    fc.assert(
      fc.property(
        sizes,
        fc.constantFrom(...VESSEL_SHAPES),
        fc.constantFrom(...FIRING_KINDS),
        fc.constantFrom(null, '0', '6.5', '40'),
        (size, form, kind, firingShrinkagePercent) => {
          const room = kilnRoomMm3({ form, ...size, firingShrinkagePercent }, kind);
          expect(Number.isSafeInteger(room) && room > 0).toBe(true);
        },
      ),
    );
  });
});
