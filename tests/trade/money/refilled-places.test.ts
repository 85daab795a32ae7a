import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { partFilledMinor, placesFilledAgain } from '../../../src/trade/money/refilled-places.js';

describe('places that were given up', () => {
  test.each<[string, number, number, number[], number[]]>([
    ['nobody came for the one place of a full course', 8, 7, [1], [0]],
    ['somebody came for it', 8, 8, [1], [1]],
    ['somebody came, and would have found a place anyway', 8, 5, [1], [0]],
    ['of two, the first is filled first', 8, 7, [1, 1], [1, 0]],
    ['of two places of one booking, one', 8, 7, [2], [1]],
    ['a booking of two fills the last of one and the first of the next', 8, 7, [1, 2, 1], [1, 2, 0]],
    ['whoever filled a place gave it up too, and another came', 1, 1, [1, 1], [1, 1]],
    ['whoever filled a place gave it up too, and nobody came', 1, 0, [1, 1], [1, 0]],
    ['nothing was given up', 8, 8, [], []],
  ])('%s', (_, capacity, taken, givenUp, filled) => {
    expect(placesFilledAgain(capacity, taken, givenUp)).toEqual(filled);
  });

  test('are filled all where the course is full, and none before somebody is above its capacity', () => {
    const places = fc.array(fc.integer({ min: 1, max: 5 }), { maxLength: 8 });
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 20 }), places, (capacity, givenUp) => {
        expect(placesFilledAgain(capacity, capacity, givenUp)).toEqual(givenUp);
        const sum = givenUp.reduce((a, b) => a + b, 0);
        expect(placesFilledAgain(capacity + sum, capacity, givenUp)).toEqual(givenUp.map(() => 0));
      }),
    );
  });

  /** Every place as a chair: people sit down where nobody sat yet, then where somebody got up, the longest empty first. */
  type Chair = { filled: boolean };

  test('are those in whose chairs somebody sits who found no other', () => {
    const step = fc.oneof(
      fc.record({ did: fc.constant('book' as const), places: fc.integer({ min: 1, max: 3 }) }),
      fc.record({ did: fc.constant('cancel' as const), which: fc.nat(20) }),
    );
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 8 }), fc.array(step, { maxLength: 30 }), (capacity, steps) => {
        let fresh = capacity;
        const empty: Chair[] = []; // given up, the longest first
        const left: Chair[][] = []; // by booking that was cancelled
        const here: number[] = [];
        for (const it of steps) {
          if (it.did === 'cancel') {
            const [places] = here.splice(it.which % Math.max(1, here.length), 1);
            if (places === undefined) continue;
            const chairs = Array.from({ length: places }, () => ({ filled: false }));
            left.push(chairs);
            empty.push(...chairs);
          } else if (it.places <= fresh + empty.length) {
            for (let i = 0; i < it.places; i++)
              if (fresh > 0) fresh--;
              else Object.assign(empty.shift() as Chair, { filled: true });
            here.push(it.places);
          }
          const taken = here.reduce((a, b) => a + b, 0);
          expect(
            placesFilledAgain(
              capacity,
              taken,
              left.map((chairs) => chairs.length),
            ),
          ).toEqual(left.map((chairs) => chairs.filter(({ filled }) => filled).length));
        }
      }),
    );
  });

  test('are refused where their numbers are none', () => {
    expect(() => placesFilledAgain(-1, 0, [])).toThrow(/^The places of a course/);
    expect(() => placesFilledAgain(1, 0, [0.5])).toThrow(/^Places given up/);
  });
});

describe('the part of a further refund', () => {
  test('grows with the places filled and ends with all of it', () => {
    expect([0, 1, 2, 3].map((filled) => partFilledMinor(1001, filled, 3))).toEqual([0, 334, 667, 1001]);
    fc.assert(
      fc.property(fc.nat(1_000_000), fc.integer({ min: 1, max: 20 }), (further, places) => {
        const parts = Array.from({ length: places + 1 }, (_, filled) => partFilledMinor(further, filled, places));
        expect([parts[0], parts.at(-1)]).toEqual([0, further]);
        expect(parts).toEqual([...parts].sort((a, b) => a - b));
      }),
    );
  });
});
