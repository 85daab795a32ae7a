import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  airportShares,
  asPricedMinor,
  EMPTY_SPACES,
  type FiringToSplit,
  splitFiring,
  timeInShares,
} from '../../../src/trade/firing/cost-split.js';
import { Decimal } from '../../../src/trade/money/money.js';

const piece = (id: string, volumeMm3: number) => ({ id, volumeMm3 });
const firing = (more: Partial<FiringToSplit> = {}): FiringToSplit => ({
  costMinor: 1000,
  chamberMm3: 10_000,
  usualMm3: 5000,
  pieces: [piece('a', 1000), piece('b', 3000)],
  emptySpace: 'studio',
  ...more,
});
const amounts = (of: FiringToSplit) => splitFiring(of).shares.map((share) => share.amountMinor);

describe('splitting a firing', () => {
  test('leaves empty room to the studio, or spreads it and says how much', () => {
    expect(splitFiring(firing())).toEqual({
      shares: [
        { id: 'a', weightMm3: 1000, amountMinor: 100, emptyMinor: 0 },
        { id: 'b', weightMm3: 3000, amountMinor: 300, emptyMinor: 0 },
      ],
      studioMinor: 600,
      emptyMm3: 6000,
    });
    expect(splitFiring(firing({ emptySpace: 'spread' }))).toEqual({
      shares: [
        { id: 'a', weightMm3: 1000, amountMinor: 250, emptyMinor: 150 },
        { id: 'b', weightMm3: 3000, amountMinor: 750, emptyMinor: 450 },
      ],
      studioMinor: 0,
      emptyMm3: 6000,
    });
  });

  test('at the usual fill asks pieces for their part of that, and leaves to the studio what was emptier', () => {
    expect(splitFiring(firing({ emptySpace: 'usual' }))).toEqual({
      shares: [
        { id: 'a', weightMm3: 1000, amountMinor: 200, emptyMinor: 100 }, // a fifth of the 5000 that are usual
        { id: 'b', weightMm3: 3000, amountMinor: 600, emptyMinor: 300 },
      ],
      studioMinor: 200,
      emptyMm3: 6000,
    });
    // fuller than usual: its pieces share it alone, and never pay more than it cost
    const fuller = firing({ emptySpace: 'usual', usualMm3: 2000 });
    expect([amounts(fuller), splitFiring(fuller).studioMinor]).toEqual([[250, 750], 0]);
  });

  test('counts an overfull chamber as full', () => {
    const full = firing({ pieces: [piece('a', 10_000), piece('b', 10_000)] });
    expect([amounts(full), splitFiring(full).studioMinor]).toEqual([[500, 500], 0]);
  });

  test('asks nobody for less than nothing for empty room, where the odd penny falls otherwise', () => {
    // with the empty room counted the first piece gets an odd penny, without it none
    const pieces = [piece('a', 1), piece('b', 1), piece('c', 5)];
    const { shares } = splitFiring({ costMinor: 2, chamberMm3: 8, usualMm3: 8, pieces, emptySpace: 'spread' });
    expect(shares.map(({ amountMinor, emptyMinor }) => [amountMinor, emptyMinor])).toEqual([
      [0, 0],
      [0, 0],
      [2, 1],
    ]);
  });

  test('leaves a firing without pieces to the studio', () => {
    expect(splitFiring(firing({ pieces: [], emptySpace: 'spread' }))).toEqual({
      shares: [],
      studioMinor: 1000,
      emptyMm3: 10_000,
    });
  });

  test('adds up to the cost to the unit', () => {
    const pieces = fc
      .array(fc.integer({ min: 1, max: 20_000_000 }), { maxLength: 60 })
      .map((volumes) => volumes.map((mm3, i) => piece(`${i}`, mm3)));
    const anyFiring = fc.record({
      costMinor: fc.integer({ min: 0, max: 100_000 }),
      chamberMm3: fc.integer({ min: 1_000_000, max: 500_000_000 }),
      usualMm3: fc.integer({ min: 1, max: 1_000_000 }),
      pieces,
      emptySpace: fc.constantFrom(...EMPTY_SPACES),
    });
    fc.assert(
      fc.property(anyFiring, (each) => {
        const { shares, studioMinor } = splitFiring(each);
        expect(shares.reduce((sum, share) => sum + share.amountMinor, studioMinor)).toBe(each.costMinor);
        for (const { amountMinor, emptyMinor } of shares) {
          expect(emptyMinor).toBeGreaterThanOrEqual(0);
          expect(emptyMinor).toBeLessThanOrEqual(amountMinor);
        }
      }),
    );
  });

  test('refuses what it cannot split', () => {
    expect(() => splitFiring(firing({ costMinor: -1 }))).toThrow(/^The cost of the firing/);
    expect(() => splitFiring(firing({ chamberMm3: 0 }))).toThrow(/^The volume of the chamber/);
    expect(() => splitFiring(firing({ usualMm3: 10_001 }))).toThrow(/^The volume that is usually filled/);
    expect(() => splitFiring(firing({ pieces: [piece('a', 0)] }))).toThrow(/^The volume of a piece/);
    expect(() => splitFiring(firing({ pieces: [piece('a', 5), piece('a', 5)] }))).toThrow(/in this firing twice/);
  });
});

describe('the time in shares', () => {
  test('adds up to the whole of it, and is never more than a share', () => {
    expect(timeInShares([100, 300, 600], 400)).toEqual([40, 120, 240]);
    expect(timeInShares([0, 0], 0)).toEqual([0, 0]);
    const amounts = fc.array(fc.integer({ min: 0, max: 10_000 }), { minLength: 1, maxLength: 40 });
    fc.assert(
      fc.property(amounts, fc.double({ min: 0, max: 1, noNaN: true }), (shares, part) => {
        const labourMinor = Math.floor(shares.reduce((sum, minor) => sum + minor, 0) * part);
        const times = timeInShares(shares, labourMinor);
        expect(times.reduce((sum, minor) => sum + minor, 0)).toBe(labourMinor);
        for (const [i, minor] of times.entries()) expect(minor).toBeLessThanOrEqual(shares[i] ?? 0);
      }),
    );
    expect(() => timeInShares([1], 2)).toThrow(/^The owner's time/);
  });
});

test('a price counts electricity and wear at the usual fill, also for a load that was fuller', () => {
  expect(asPricedMinor(2000, 3000, 5000)).toBe(1200);
  expect(asPricedMinor(2000, 6000, 5000)).toBe(2400);
});

describe('airport shares', () => {
  test('add up to the greatest cost, keep the order given, and ask nobody for more than its own cost', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 1e9 }), { minLength: 1, maxLength: 50 }), (costs) => {
        const shares = airportShares(costs).map((share) => new Decimal(share));
        expect(
          Decimal.sum(...shares)
            .toDecimalPlaces(20)
            .toNumber(),
        ).toBe(Math.max(...costs));
        for (const [i, cost] of costs.entries()) {
          expect(shares[i]?.lte(cost)).toBe(true);
          for (const [j, other] of costs.entries()) if (cost < other) expect(shares[i]?.lt(shares[j] ?? 0)).toBe(true);
        }
      }),
    );
  });

  test('of nobody are none, and of fractions refused', () => {
    expect(airportShares([])).toEqual([]);
    expect(() => airportShares([1.5])).toThrow(/^A cost/);
  });
});
