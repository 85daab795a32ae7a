import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { profilePath } from '../../../src/trade/materials/vessel-profiles.js';
import { VESSEL_SHAPES } from '../../../src/trade/materials/vessel-shapes.js';

type Point = [number, number];

/** Points along a path of M, L, H, V, C, Q and Z with absolute coordinates; throws on anything else. */
function pointsOf(path: string): Point[] {
  const points: Point[] = [];
  let at: Point = [0, 0];
  const curve = (...controls: Point[]) => {
    for (let step = 1; step <= 200; step += 1) points.push(bezier([at, ...controls], step / 200));
    at = controls.at(-1) as Point;
  };
  for (const [, command = '', rest = ''] of path.matchAll(/([A-Za-z])([^A-Za-z]*)/g)) {
    const n = rest.trim() === '' ? [] : rest.trim().split(/\s+/).map(Number);
    if (n.some(Number.isNaN)) throw new Error(`not a number in ${command}${rest}`);
    const pairs = Array.from({ length: Math.floor(n.length / 2) }, (_, i): Point => [n[2 * i] ?? 0, n[2 * i + 1] ?? 0]);
    if (command === 'M') {
      at = pairs[0] as Point;
      points.push(at);
    } else if (command === 'L' || command === 'C' || command === 'Q') curve(...pairs);
    else if (command === 'H') curve([n[0] ?? 0, at[1]]);
    else if (command === 'V') curve([at[0], n[0] ?? 0]);
    else if (command !== 'Z') throw new Error(`unknown ${command}`);
  }
  return points;
}

function bezier(controls: Point[], t: number): Point {
  if (controls.length === 1) return controls[0] as Point;
  const mix = (a: number, b: number) => a + (b - a) * t;
  const next = controls
    .slice(1)
    .map(([x, y], i): Point => [mix(controls[i]?.[0] ?? 0, x), mix(controls[i]?.[1] ?? 0, y)]);
  return bezier(next, t);
}

describe.each(VESSEL_SHAPES)('the profile of a %s', (form) => {
  test('stands on the shelf and is drawn to scale, in width and in height', () => {
    const size = fc.integer({ min: 10, max: 2000 });
    fc.assert(
      fc.property(size, size, (width, height) => {
        const points = pointsOf(profilePath(form, width, height));
        const xs = points.map(([x]) => x);
        const ys = points.map(([, y]) => y);
        const slack = (of: number) => of * 0.02 + 0.1;
        expect(Math.abs(Math.max(...ys))).toBeLessThanOrEqual(0.1);
        expect(Math.abs(-Math.min(...ys) - height)).toBeLessThan(slack(height));
        expect(Math.abs(Math.max(...xs) - width / 2)).toBeLessThan(slack(width));
        expect(Math.abs(-Math.min(...xs) - width / 2)).toBeLessThan(slack(width));
      }),
      { numRuns: 20 },
    );
  });

  test('is short text, with one decimal at most', () => {
    const path = profilePath(form, 87.3, 101.7);
    expect(path).toMatch(/^M/);
    expect(path).not.toMatch(/\.\d\d|NaN|-0(?![.\d])|e/);
    expect(path.length).toBeLessThan(400);
  });

  test('refuses a size that no pot has', () => {
    expect(() => profilePath(form, 0, 100)).toThrow('The width in mm must be between 1 and 2000.');
    expect(() => profilePath(form, 100, Number.NaN)).toThrow(/^The height in mm/);
  });
});
