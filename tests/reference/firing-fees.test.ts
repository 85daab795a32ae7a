import { describe, expect, test } from 'vitest';
import { boxVolumeMm3 } from '../../src/trade/firing/kiln-room.js';
import { amountMinor, Decimal } from '../../src/trade/money/money.js';

// What studios charge by the cubic inch of the bounding box. Our volumes are in whole mm³: 1 cu in = 16,387.064 mm³.

const MM_PER_INCH = 25.4;
const MM3_PER_CUBIC_INCH = '16387.064';

/** Cubic inches of a box, with each dimension counted as at least so much. */
function cubicInches([width, depth, height]: readonly [number, number, number], leastInches = 0): Decimal {
  const size = { widthMm: width * MM_PER_INCH, depthMm: depth * MM_PER_INCH, heightMm: height * MM_PER_INCH };
  return new Decimal(boxVolumeMm3(size, 0, leastInches * MM_PER_INCH)).div(MM3_PER_CUBIC_INCH).toDecimalPlaces(3);
}

describe('firing fees by bounding box', () => {
  test.each([
    // communityclay.ca, bisque 0.04: 3x3x3.75 = 1.35, 3.75x3.75x4 = 2.25, 6x6x3.5 = 5.04. Mark: read.
    [[3, 3, 3.75], '4', '135'],
    [[3.75, 3.75, 4], '4', '225'],
    [[6, 6, 3.5], '4', '504'],
    // The same, glaze 0.06. Mark: read; the tumbler is printed as 2.06, a slip: 2.025 is exact and derived.
    [[3, 3, 3.75], '6', '202.5'],
    [[3.75, 3.75, 4], '6', '337.5'],
    [[6, 6, 3.5], '6', '756'],
  ] as const)('%j inches at %s a cubic inch are %s', (inches, rateMinor, exactMinor) => {
    expect(cubicInches(inches).times(rateMinor).toString()).toBe(exactMinor);
  });

  test('each dimension counts at least 2 in: 6x4x4 in are 96 cu in, 3.84 at 0.04', () => {
    // Mouse Ceramic Studio, firing fees, 4 May 2021. Mark: read.
    expect(cubicInches([6, 4, 4], 2).toString()).toBe('96');
    expect(amountMinor(cubicInches([6, 4, 4], 2).toString(), '4')).toBe(384);
  });

  test('a flat plate pays for the shelf it takes', () => {
    // The same rule, and "plates count as 3 in tall" (communityclay.ca). Rules read, figures derived.
    expect(cubicInches([8, 8, 1], 2).toString()).toBe('128');
    expect(cubicInches([8, 8, 1], 3).toString()).toBe('192');
  });
});
