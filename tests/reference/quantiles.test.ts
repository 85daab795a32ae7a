import cephes from 'cephes';
import fc from 'fast-check';
import { beforeAll, describe, expect, it } from 'vitest';
import { betaQuantile, studentQuantile } from '../../src/trade/maths/quantiles.js';

beforeAll(() => cephes.compiled);

// Source: Cephes Mathematical Library (S. L. Moshier), incbi and stdtri, in double precision, by the npm package `cephes`.
describe('quantiles against Cephes', () => {
  it.each([
    [0.1, 0.5, 0.5],
    [0.9, 3.5, 20.5],
    [0.1, 120.5, 7.5],
    [0.9, 0.5, 300.5],
    [0.1, 250.5, 2750.5],
  ])('the %d quantile of Beta(%d, %d)', (probability, a, b) => {
    expect(betaQuantile(probability, a, b) / cephes.incbi(a, b, probability)).toBeCloseTo(1, 9);
  });

  it('of any count of pieces lost', () => {
    fc.assert(
      fc.property(fc.nat(60), fc.nat(400), fc.constantFrom(0.1, 0.9), (lost, kept, probability) => {
        const wanted = cephes.incbi(lost + 0.5, kept + 0.5, probability);
        expect(Math.abs(betaQuantile(probability, lost + 0.5, kept + 0.5) - wanted) / wanted).toBeLessThan(1e-8);
      }),
    );
  });

  it.each([1, 2, 3, 4, 7, 12, 40, 200])('Student’s t with %i degrees of freedom', (freedom) => {
    for (const probability of [0.6, 0.9, 0.975])
      expect(studentQuantile(probability, freedom)).toBeCloseTo(cephes.stdtri(freedom, probability), 8);
  });
});

// Source: the table of percentage points of Student's t that stands in every handbook (one tail of 0.10), here from memory.
describe("quantiles against the printed table of Student's t", () => {
  it.each([
    [1, 3.078],
    [2, 1.886],
    [3, 1.638],
    [4, 1.533],
    [5, 1.476],
    [10, 1.372],
    [20, 1.325],
    [30, 1.31],
  ])('%i degrees of freedom: %d', (freedom, printed) => {
    expect(studentQuantile(0.9, freedom)).toBeCloseTo(printed, 3);
  });
});

// Sources: closed forms, in any handbook of distributions (here from memory).
describe('quantiles in closed form', () => {
  const chances = [0.001, 0.1, 0.3, 0.5, 0.9, 0.999];

  it('Beta(1/2, 1/2) is the arcsine law: sin²(π p / 2)', () => {
    for (const p of chances) expect(betaQuantile(p, 0.5, 0.5)).toBeCloseTo(Math.sin((Math.PI * p) / 2) ** 2, 11);
  });

  it('Beta(a, 1) has p^(1/a), Beta(1, b) has 1 - (1 - p)^(1/b)', () => {
    for (const p of chances)
      for (const shape of [0.5, 2, 17]) {
        expect(betaQuantile(p, shape, 1)).toBeCloseTo(p ** (1 / shape), 11);
        expect(betaQuantile(p, 1, shape)).toBeCloseTo(1 - (1 - p) ** (1 / shape), 11);
      }
  });

  it("Student's t with one degree of freedom is Cauchy's: tan(π (p - 1/2)); with two, (2p - 1) √(2 / (4p (1 - p)))", () => {
    for (const p of [0.6, 0.9, 0.99]) {
      expect(studentQuantile(p, 1)).toBeCloseTo(Math.tan(Math.PI * (p - 0.5)), 8);
      expect(studentQuantile(p, 2)).toBeCloseTo((2 * p - 1) * Math.sqrt(2 / (4 * p * (1 - p))), 9);
    }
  });
});
