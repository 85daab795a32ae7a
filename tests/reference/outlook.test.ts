import cephes from 'cephes';
import { describe, expect, it } from 'vitest';
import { distributionOfFurtherBookings } from '../../src/trade/stock/demand.js';
import { stockOutlook } from '../../src/trade/stock/outlook.js';

const DAY = '2026-03-10';
const binomial = (n: number, p: number) => {
  let chances = [1];
  for (let i = 0; i < n; i++)
    chances = [...chances, 0].map((chance, k) => chance * (1 - p) + (chances[k - 1] ?? 0) * p);
  return chances;
};
const course = (more: number[]) => ({
  ...{ booked: 0, more },
  draws: [{ perStudent: '1', drawn: 0, sessions: [{ day: DAY, weight: 1 }] }],
});
const shortWith = (onHand: number, demands: ReturnType<typeof course>[]) =>
  stockOutlook({ onHand, demands, packQuantity: 1, leadTimeDays: 0 }).rows[0]?.shortChance ?? Number.NaN;

// Source: Cephes Mathematical Library (S. L. Moshier), bdtrc, the upper tail of the binomial, by the npm package `cephes`.
// Binomials of one probability add up to the binomial of all their trials.
describe('the outlook against Cephes', () => {
  it.each([
    [[4, 9, 12], 0.6],
    [[40, 60, 80, 10], 0.35],
    [[1, 1, 1, 1, 1], 0.9],
  ])('courses of %j places that fill with %d run short as one of all their places', (sizes, p) => {
    const all = sizes.reduce((a, b) => a + b, 0);
    for (let onHand = 0; onHand < all; onHand++) {
      const chance = shortWith(
        onHand,
        sizes.map((n) => course(binomial(n, p))),
      );
      expect(Math.abs(chance - cephes.bdtrc(onHand, all, p))).toBeLessThan(1e-12);
    }
  });
});

// Source: closed forms, in any handbook of discrete distributions (here from memory): after `booked` of `booked + m` draws the
// urn of Polya goes on as one with alpha + booked; a course of nobody yet keeps the mean of its beta-binomial, n a / (a + b).
describe('what is expected in closed form', () => {
  it.each([
    [12, '4.5', '3.5'],
    [200, '30', '12.5'],
  ])('%i places, alpha %s, beta %s: the mean and the variance', (places, alpha, beta) => {
    const [n, a, b] = [places, Number(alpha), Number(beta)];
    const chances = distributionOfFurtherBookings(places, 0, alpha, beta);
    const mean = chances.reduce((sum, p, k) => sum + p * k, 0);
    const variance = chances.reduce((sum, p, k) => sum + p * (k - mean) ** 2, 0);
    expect(mean).toBeCloseTo((n * a) / (a + b), 9);
    expect(variance / ((n * a * b * (a + b + n)) / ((a + b) ** 2 * (a + b + 1)))).toBeCloseTo(1, 9);
  });

  it('two uniform courses make the triangle: 1 / (n + 1)^2 at its ends, one chance in two at or above its middle', () => {
    const uniform = distributionOfFurtherBookings(6, 0, '1', '1');
    expect(shortWith(11, [course(uniform), course(uniform)])).toBeCloseTo(1 / 49, 12);
    expect(shortWith(5, [course(uniform), course(uniform)])).toBeCloseTo(28 / 49, 12);
  });

  it('one place left of three on a uniform course, two booked, fills with 3 / 4 by the ratio of its two chances', () => {
    // P(2) and P(3) are both 1 / 4: cut at two booked, each is one chance in two
    expect(distributionOfFurtherBookings(3, 2, '1', '1')).toEqual([0.5, 0.5]);
  });
});
