import fc from 'fast-check';
import { expect, test } from 'vitest';
import { layOut } from '../../src/desk/charts/kiln-layout.js';
import { scaleFor } from '../../src/desk/charts/px-scale.js';

const piece = fc.record({ widthMm: fc.integer({ min: 10, max: 400 }), heightMm: fc.integer({ min: 5, max: 400 }) });
const layers = fc
  .array(fc.array(piece, { maxLength: 12 }), { maxLength: 5 })
  .map((all) => all.map((pieces, i) => ({ layer: i + 1, pieces })));

test('in a chamber nothing overlaps what stands beside it, nothing leaves it, and nobody is left out', () => {
  fc.assert(
    fc.property(layers, (wanted) => {
      const { shelves, neededMm } = layOut(450, wanted);
      const placed = shelves.flatMap(({ rows }) => rows.flatMap((row) => row.placed));
      expect(placed).toHaveLength(wanted.flatMap(({ pieces }) => pieces).length);
      for (const { yMm, headMm, rows } of shelves) {
        expect(yMm + headMm).toBeLessThanOrEqual(neededMm);
        for (const { placed } of rows) {
          let reached = 0;
          for (const { piece, xMm } of placed) {
            expect(xMm - piece.widthMm / 2).toBeGreaterThanOrEqual(reached - 1e-9);
            expect(piece.heightMm).toBeLessThanOrEqual(headMm);
            reached = xMm + piece.widthMm / 2;
          }
          expect(reached).toBeLessThanOrEqual(450 + 1e-9);
        }
      }
    }),
  );
});

test('shelves lie in the order of their layers, from the floor up', () => {
  const mug = { widthMm: 120, heightMm: 95 };
  const { shelves } = layOut(450, [
    { layer: 2, pieces: [mug] },
    { layer: 1, pieces: [mug, mug, mug, mug] },
  ]);
  expect(shelves.map(({ layer, yMm }) => [layer, yMm])).toEqual([
    [1, 0],
    [2, 125], // 95 of mug, 15 of air and a shelf of 15
  ]);
  expect(shelves[0]?.rows.map(({ behind, placed }) => [behind, placed.length])).toEqual([
    [true, 3],
    [false, 1],
  ]);
});

test('one scale fits the widest pot on a phone', () => {
  expect(scaleFor([])).toBe(9);
  expect(scaleFor([{ widthMm: 280, heightMm: 30 }])).toBe(9);
  expect(
    scaleFor([
      { widthMm: 280, heightMm: 30 },
      { widthMm: 900, heightMm: 100 },
    ]),
  ).toBe(12);
});
