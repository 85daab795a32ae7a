import cephes from 'cephes';
import { Decimal as Base } from 'decimal.js';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { betaBinomial, expectedCount } from '../../src/trade/pricing/enrolment.js';

const Decimal = Base.clone({ precision: 60 });
const numbersOf = (n: number, alpha: number, beta: number) =>
  betaBinomial(n, String(alpha), String(beta)).map((p) => p.toNumber());

/** How far the worst probability is from what it should be, relative to the latter. */
const worst = (got: number[], wanted: number[]) =>
  Math.max(...wanted.map((w, k) => Math.abs((got[k] ?? Number.NaN) - w) / w));

const tenths = (max: number) => fc.integer({ min: 1, max: max * 10 }).map((t) => t / 10);

// Source: Cephes Mathematical Library (S. L. Moshier), lbeta, in double precision, by the npm package `cephes`;
// P(k) = C(n, k) B(k + a, n - k + b) / B(a, b) with C(n, k) = 1 / ((n + 1) B(k + 1, n - k + 1)).
describe('enrolment against Cephes', () => {
  const reference = (n: number, a: number, b: number) =>
    Array.from({ length: n + 1 }, (_, k) =>
      Math.exp(cephes.lbeta(k + a, n - k + b) - cephes.lbeta(a, b) - cephes.lbeta(k + 1, n - k + 1) - Math.log(n + 1)),
    );

  it.each([
    [8, 9, 3],
    [12, 4.5, 3.5],
    [6, 0.5, 0.5],
    [10, 0.1, 20],
    [200, 30, 12.5],
  ])('%i places, alpha %d, beta %d', (n, a, b) => {
    expect(worst(numbersOf(n, a, b), reference(n, a, b))).toBeLessThan(1e-11);
  });

  it('at any places, alpha and beta', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 200 }), tenths(60), tenths(60), (n, a, b) => {
        expect(worst(numbersOf(n, a, b), reference(n, a, b))).toBeLessThan(1e-10);
      }),
    );
  });
});

// Sources: closed forms, in any handbook of discrete distributions (here from memory).
describe('enrolment in closed form', () => {
  it.each([1, 2, 7, 12, 200])('alpha = beta = 1 is uniform: 1 / (n + 1) for n = %i', (n) => {
    const each = new Decimal(1).div(n + 1);
    for (const p of betaBinomial(n, '1', '1')) expect(each.minus(p).abs().toNumber()).toBeLessThan(1e-36);
  });

  it('one place fills with probability alpha / (alpha + beta)', () => {
    expect(betaBinomial(1, '4.5', '3.5').map(String)).toEqual(['0.4375', '0.5625']);
  });

  it('has mean n a / (a + b) and variance n a b (a + b + n) / ((a + b)^2 (a + b + 1))', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 60 }), tenths(60), tenths(60), (n, alpha, beta) => {
        const probabilities = betaBinomial(n, String(alpha), String(beta));
        const [a, b] = [new Decimal(alpha), new Decimal(beta)];
        const sum = a.plus(b);
        const mean = a.times(n).div(sum);
        expect(mean.minus(expectedCount(probabilities)).abs().toNumber()).toBeLessThan(1e-33);

        const squares = probabilities.reduce((s, p, k) => s.plus(new Decimal(p).times(k * k)), new Decimal(0));
        const variance = a
          .times(b)
          .times(n)
          .times(sum.plus(n))
          .div(sum.pow(2).times(sum.plus(1)));
        expect(squares.minus(mean.pow(2)).minus(variance).abs().toNumber()).toBeLessThan(1e-31);
      }),
    );
  });

  it('tends to the binomial as alpha and beta grow in proportion, ten times closer for ten times the size', () => {
    const [n, fill] = [12, 0.6];
    let binomial = [1];
    for (let i = 0; i < n; i++) {
      // one more place: taken with probability `fill` or not
      binomial = [...binomial, 0].map((p, k) => p * (1 - fill) + (binomial[k - 1] ?? 0) * fill);
    }
    const apart = [1e3, 1e4, 1e5].map((size) => worst(numbersOf(n, fill * size, (1 - fill) * size), binomial));
    expect(apart[2]).toBeLessThan(1e-3);
    expect((apart[0] ?? 0) / (apart[1] ?? 0)).toBeCloseTo(10, 0);
    expect((apart[1] ?? 0) / (apart[2] ?? 0)).toBeCloseTo(10, 0);
  });
});

// Source: the urn of F. Eggenberger and G. Polya (1923), from memory: draw a ball, put it back with another of its
// colour; the white balls among n draws are beta-binomial. Reckoned here in whole numbers by following every draw.
describe("enrolment as draws from Polya's urn", () => {
  it.each([
    [8, 9, 3],
    [12, 1, 4],
    [30, 2, 2],
  ])('%i draws, %i white and %i black balls', (draws, white, black) => {
    let ways = [1n]; // by the number of white balls drawn so far
    let all = 1n;
    for (let drawn = 0; drawn < draws; drawn++) {
      ways = [...ways, 0n].map((w, k) => w * BigInt(black + drawn - k) + (ways[k - 1] ?? 0n) * BigInt(white + k - 1));
      all *= BigInt(white + black + drawn);
    }
    const probabilities = betaBinomial(draws, String(white), String(black));
    for (const [k, w] of ways.entries()) {
      const wanted = new Decimal(w.toString()).div(all.toString());
      expect(
        wanted
          .minus(probabilities[k] ?? 0)
          .abs()
          .toNumber(),
      ).toBeLessThan(1e-36);
    }
  });
});
