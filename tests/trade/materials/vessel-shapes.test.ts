import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { boxVolumeMm3 } from '../../../src/trade/firing/kiln-room.js';
import { areaDm2, SIZES, sizeFrom, VESSEL_SHAPES } from '../../../src/trade/materials/vessel-shapes.js';

const both = { inside: true, outside: true };
const side = fc.integer({ min: 1, max: 2000 });
const sizes = fc.record({ widthMm: side, depthMm: side, heightMm: side });
const of = (widthMm: number, depthMm: number, heightMm: number) => ({ widthMm, depthMm, heightMm });

test.each([of(0, 10, 10), of(10, 2001, 10), of(10, 10, -5), of(10, 10, Number.NaN)])('refuses %j', (size) => {
  expect(() => areaDm2('mug', size, both)).toThrow(/ in mm must/);
});

describe('glazed area', () => {
  test('of simple bodies is that of their geometry', () => {
    expect(areaDm2('tile', of(100, 100, 10), { inside: true, outside: false })).toBe(1);
    expect(areaDm2('tile', of(100, 100, 10), both)).toBe(1.4);
    expect(areaDm2('box', of(200, 100, 50), { inside: true, outside: false })).toBe(5); // walls 3, floor 2
    // a cylinder of 100 by 100 mm: wall pi dm², floor pi/4 dm²
    expect(areaDm2('cylinder', of(100, 100, 100), { inside: true, outside: false })).toBeCloseTo((Math.PI * 5) / 4, 2);
    expect(areaDm2('cylinder', of(100, 100, 100), { inside: false, outside: true })).toBeCloseTo(Math.PI, 2);
    // a bowl as deep as its radius is half a sphere: 2 pi r²
    expect(areaDm2('bowl', of(200, 200, 100), { inside: true, outside: false })).toBeCloseTo(2 * Math.PI, 2);
  });

  // 10 by 8 by 12 dm, so 9 across on average; the shares of a foot, a handle, a lid and a shoulder are our own assumptions
  test.each([
    ['cylinder', 128.25 * Math.PI, 108 * Math.PI], // wall 9 · 12 π, floor 9²/4 π
    ['mug', 112 * Math.PI, 110.4 * Math.PI], // 8 across without its handle: wall 96 π, floor 16 π; the handle 15 % of the wall
    ['bowl', 164.25 * Math.PI, 161.01 * Math.PI], // cap (9²/4 + 12²) π, without a foot of 3.6 across
    ['plate', 164.25 * Math.PI, 156.96 * Math.PI], // ... of 5.4 across
    ['pinchPot', 164.25 * Math.PI, 162.4275 * Math.PI], // ... of 2.7 across
    ['box', 512, 432], // walls 2 · 18 · 12, floor 80
    ['jar', 112.05 * Math.PI, 128.25 * Math.PI], // 85 % of the wall inside, and the lid outside
    ['bottle', 96.3225 * Math.PI, 86.4 * Math.PI], // wall of 7.2 across, floor of 6.3
    ['tile', 80, 432],
  ] as const)('of a %s follows from its shares, inside %d dm² and outside %d dm²', (form, inside, outside) => {
    expect(areaDm2(form, of(1000, 800, 1200), { inside: true, outside: false })).toBeCloseTo(inside, 1);
    expect(areaDm2(form, of(1000, 800, 1200), { inside: false, outside: true })).toBeCloseTo(outside, 1);
  });

  test('of both sides is that of each, and grows with the piece', () => {
    fc.assert(
      fc.property(fc.constantFrom(...VESSEL_SHAPES), sizes, (form, size) => {
        const inside = areaDm2(form, size, { inside: true, outside: false });
        const outside = areaDm2(form, size, { inside: false, outside: true });
        expect(Math.abs(areaDm2(form, size, both) - inside - outside)).toBeLessThan(0.011);
        expect(Math.min(inside, outside)).toBeGreaterThanOrEqual(0);
        const [widthMm, depthMm, heightMm] = [size.widthMm, size.depthMm, size.heightMm].map((mm) =>
          Math.min(2000, mm * 2),
        );
        const larger = of(widthMm ?? 1, depthMm ?? 1, heightMm ?? 1);
        expect(areaDm2(form, larger, both)).toBeGreaterThanOrEqual(areaDm2(form, size, both) - 0.011);
      }),
    );
  });

  test('of neither side is none', () => {
    expect(areaDm2('jar', sizeFrom('jar', 'large'), { inside: false, outside: false })).toBe(0);
  });
});

test('every form has assumed sizes that grow, and a mug is wider than deep by its handle', () => {
  for (const form of VESSEL_SHAPES) {
    const volumes = SIZES.map((size) => boxVolumeMm3(sizeFrom(form, size), 0));
    expect(volumes).toEqual([...new Set(volumes)].sort((a, b) => a - b));
  }
  for (const size of SIZES) expect(sizeFrom('mug', size).widthMm).toBeGreaterThan(sizeFrom('mug', size).depthMm);
});
