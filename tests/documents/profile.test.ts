import fc from 'fast-check';
import { expect, test } from 'vitest';
import { arrangeOnBoards, type Profile } from '../../src/documents/profile.js';
import { VESSEL_SHAPES } from '../../src/trade/materials/vessel-shapes.js';

const POINTS_PER_MM = 72 / 25.4; // a point is 1/72 of an inch, an inch 25.4 mm by definition

const profiles: fc.Arbitrary<Profile[]> = fc.array(
  fc.record({
    code: fc.string({ minLength: 1, maxLength: 12 }),
    description: fc.constant('a pot'),
    form: fc.constantFrom(...VESSEL_SHAPES),
    widthMm: fc.integer({ min: 1, max: 2000 }),
    heightMm: fc.integer({ min: 1, max: 2000 }),
  }),
  { maxLength: 80 },
);

test('each piece stands on one board, in its order, beside and not inside its neighbours', () => {
  fc.assert(
    fc.property(profiles, fc.constantFrom(3, 5, 12, 25), (pieces, scale) => {
      const width = 336;
      const boards = arrangeOnBoards(pieces, scale, width, (code) => code.length * 4);
      expect(boards.flat().map(({ x: _, ...piece }) => piece)).toEqual(pieces);
      for (const board of boards) {
        let end = 0;
        for (const { x, widthMm, code } of board) {
          const half = Math.max((widthMm * POINTS_PER_MM) / scale, code.length * 4) / 2;
          expect(x - half).toBeGreaterThanOrEqual(end - 1e-6);
          end = x + half;
        }
        if (board.length > 1) expect(end).toBeLessThanOrEqual(width + 1e-6);
      }
    }),
  );
});

test('a plate of 240 mm at 1 : 4 is 60 mm wide on paper', () => {
  const plate: Profile = { code: 'A', description: 'Plate', form: 'plate', widthMm: 240, heightMm: 30 };
  const [board] = arrangeOnBoards([plate], 4, 336, () => 0);
  expect(board?.[0]?.x).toBeCloseTo((60 / 2) * POINTS_PER_MM);
});
