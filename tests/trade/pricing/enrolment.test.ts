import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Decimal } from '../../../src/trade/money/money.js';
import { betaBinomial, expectedCount, probabilityBelow } from '../../../src/trade/pricing/enrolment.js';

const shape = fc
  .integer({ min: 1, max: 5_000_000 })
  .map((thousandths) => new Decimal(thousandths).div(1000).toString());
const places = fc.integer({ min: 0, max: 200 });

describe('betaBinomial', () => {
  it('gives one probability for each number from none to all places, together 1', () => {
    fc.assert(
      fc.property(places, shape, shape, (n, alpha, beta) => {
        const probabilities = betaBinomial(n, alpha, beta);
        expect(probabilities).toHaveLength(n + 1);
        expect(probabilities.every((p) => p.gt(0) && p.lte(1))).toBe(true);
        expect(
          probabilityBelow(probabilities, n + 1)
            .minus(1)
            .abs()
            .toNumber(),
        ).toBeLessThan(1e-35);
      }),
      { numRuns: 60 },
    );
  });

  it('is mirrored when alpha and beta change places', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 30 }), shape, shape, (n, alpha, beta) => {
        const mirrored = betaBinomial(n, beta, alpha).reverse();
        for (const [k, p] of betaBinomial(n, alpha, beta).entries()) {
          expect(
            p
              .div(mirrored[k] ?? 0)
              .minus(1)
              .abs()
              .toNumber(),
          ).toBeLessThan(1e-35);
        }
      }),
    );
  });

  it('moves to fuller courses as alpha grows', () => {
    // shapes at which even a full or an empty course is likelier than the last of 40 digits
    const usualShape = fc.integer({ min: 1, max: 500 }).map((tenths) => new Decimal(tenths).div(10).toString());
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 20 }), usualShape, usualShape, (n, alpha, beta) => {
        const more = new Decimal(alpha).plus('0.5').toString();
        for (let least = 1; least <= n; least++) {
          const [usual, fuller] = [betaBinomial(n, alpha, beta), betaBinomial(n, more, beta)];
          expect(probabilityBelow(fuller, least).lt(probabilityBelow(usual, least))).toBe(true);
        }
      }),
      { numRuns: 30 },
    );
  });

  it.each([
    [201, '9', '3', /^Places must be a whole number between 0 and 200\.$/],
    [-1, '9', '3', /^Places must be a whole number/],
    [7.5, '9', '3', /^Places must be a whole number/],
    [8, '0', '3', /^Alpha of the enrolment must be between/],
    [8, '9', '-3', /^Beta of the enrolment must be between/],
    [8, 'many', '3', /^Alpha of the enrolment must be a number/],
    [8, '9', 'Infinity', /^Beta of the enrolment must be a number/],
  ])('refuses %s places, alpha %s, beta %s', (n, alpha, beta, message) => {
    expect(() => betaBinomial(n, alpha, beta)).toThrow(RangeError);
    expect(() => betaBinomial(n, alpha, beta)).toThrow(message);
  });
});

describe('a distribution', () => {
  const half = [new Decimal('0.25'), new Decimal('0.5'), new Decimal('0.25')];

  it('has a mean', () => {
    expect(expectedCount(half).toString()).toBe('1');
    expect(expectedCount([new Decimal('0.9'), new Decimal('0.1')]).toString()).toBe('0.1');
  });

  it('has a part below a number, which itself does not count', () => {
    expect([-1, 0, 1, 2, 3, 9].map((least) => probabilityBelow(half, least).toString())).toEqual([
      '0',
      '0',
      '0.25',
      '0.75',
      '1',
      '1',
    ]);
  });
});
