import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { chanceBooked, countNotPassed, finalEnrolment, paceOf } from '../../../src/trade/pricing/booking-pace.js';
import { betaBinomial } from '../../../src/trade/pricing/enrolment.js';

const choose = (n: number, k: number): number => (k === 0 ? 1 : (choose(n, k - 1) * (n - k + 1)) / k);
const binomial = (n: number, p: number) =>
  Array.from({ length: n + 1 }, (_, k) => choose(n, k) * p ** k * (1 - p) ** (n - k));
const price = (places: number, alpha: string, beta: string) =>
  betaBinomial(places, alpha, beta).map((chance) => chance.toNumber());
const meanOf = (chances: readonly number[]) => chances.reduce((sum, chance, n) => sum + n * chance, 0);

describe('how many have booked in the end', () => {
  // Thinning of a binomial (textbook identity, from memory: Bayes' rule on Bin(m, p), each counted with chance s):
  // those still to come are Bin(m - k, p (1 - s) / (1 - p s)).
  test.each([
    [10, 0.7, 0.4, 3],
    [8, 0.5, 0.9, 5],
    [12, 0.3, 0.1, 0],
  ])('is what thinning a binomial says: %i places at %d, %d of them by now, %i booked', (m, p, s, k) => {
    const further = binomial(m - k, (p * (1 - s)) / (1 - p * s));
    const final = finalEnrolment(binomial(m, p), k, s);
    expect(final.slice(0, k).every((chance) => chance === 0)).toBe(true);
    for (const [n, chance] of further.entries()) expect(final[k + n]).toBeCloseTo(chance, 12);
  });

  // Drawn at random with the same rule: each of 60,000 courses fills by the price's distribution, and each booking is early or not.
  test('is what courses drawn at random do that had as many by then', () => {
    const [places, share, booked] = [8, 0.6, 3];
    const prior = price(places, '4', '3');
    const upTo = prior.map((_, n) => prior.slice(0, n + 1).reduce((sum, chance) => sum + chance, 0));
    let seed = 20261128;
    const random = () => {
      seed = (Math.imul(seed, 1_664_525) + 1_013_904_223) >>> 0; // a linear congruence (Numerical Recipes, from memory)
      return seed / 2 ** 32;
    };
    const ended: number[] = [];
    for (let i = 0; i < 60_000; i++) {
      const drawn = random();
      const n = upTo.findIndex((chance) => drawn < chance);
      const early = Array.from({ length: Math.max(n, 0) }, () => random() < share).filter(Boolean).length;
      if (early === booked) ended.push(n);
    }
    const final = finalEnrolment(prior, booked, share);
    expect(ended.length).toBeGreaterThan(5000);
    expect(ended.reduce((sum, n) => sum + n, 0) / ended.length).toBeCloseTo(meanOf(final), 1);
    const five = ended.filter((n) => n >= 5).length / ended.length;
    expect(final.slice(5).reduce((sum, chance) => sum + chance, 0)).toBeCloseTo(five, 1);
  });

  test('is the price’s own distribution before anybody could book, and what is booked once all have', () => {
    const prior = price(8, '4', '3');
    for (const [n, chance] of finalEnrolment(prior, 0, 0).entries()) expect(chance).toBeCloseTo(prior[n] ?? 0, 12);
    expect(finalEnrolment(prior, 5, 1)).toEqual([0, 0, 0, 0, 0, 1, 0, 0, 0]);
    expect(finalEnrolment(prior, 10, 0.5)).toHaveLength(11); // more than there are places: they are there
    expect(finalEnrolment(prior, 10, 0.5)[10]).toBe(1);
  });

  test('is a distribution at or above what is booked, and falls as the day comes nearer', () => {
    const cases = fc.record({
      places: fc.integer({ min: 1, max: 40 }),
      booked: fc.integer({ min: 0, max: 40 }),
      early: fc.double({ min: 0, max: 1, noNaN: true }),
      late: fc.double({ min: 0, max: 1, noNaN: true }),
    });
    fc.assert(
      fc.property(cases, ({ places, booked, early, late }) => {
        const prior = price(places, '3.5', '2');
        const [soon, near] = [Math.min(early, late), Math.max(early, late)];
        const [before, after] = [finalEnrolment(prior, booked, soon), finalEnrolment(prior, booked, near)];
        expect(before.reduce((sum, chance) => sum + chance, 0)).toBeCloseTo(1, 10);
        expect(meanOf(before)).toBeGreaterThanOrEqual(booked - 1e-9);
        expect(meanOf(after)).toBeLessThanOrEqual(meanOf(before) + 1e-9);
      }),
    );
  });
});

describe('the chance that so many have booked by a day', () => {
  const prior = price(8, '4', '3');
  const final = finalEnrolment(prior, 3, 0.4);
  const at = (by: number, least = 5) => chanceBooked(final, { booked: 3, share: 0.4, by, least });

  test('is none now, grows, and is that of the end at the end', () => {
    expect(at(0.4)).toBe(0);
    expect(at(0.6)).toBeLessThan(at(0.8));
    expect(at(1)).toBeCloseTo(
      final.slice(5).reduce((sum, chance) => sum + chance, 0),
      12,
    );
    expect(at(0.4, 3)).toBe(1);
  });

  test('adds up over the way there: what is expected by a day is the part of those to come who book by then', () => {
    const expected = Array.from({ length: 8 }, (_, i) => at(0.7, i + 1)).reduce((sum, chance) => sum + chance, 0);
    expect(expected).toBeCloseTo(3 + (meanOf(final) - 3) * 0.5, 10); // (0.7 - 0.4) / (1 - 0.4)
  });
});

describe('how early people book', () => {
  test('is assumed while nothing is known: half in the last three weeks', () => {
    const pace = paceOf([]);
    expect([pace(0), pace(21), pace(42)]).toEqual([1, 0.5, 0.25]);
  });

  test('follows what people did', () => {
    const pace = paceOf([
      { daysBefore: 60, places: 90 },
      { daysBefore: 5, places: 10 },
    ]);
    expect(pace(60)).toBeCloseTo((90 + 10 * 0.5 ** (60 / 21)) / 110, 12);
    expect(pace(6)).toBeGreaterThan(0.8);
    expect(pace(0)).toBe(1);
  });
});

test('a number that is passed with one chance in ten at most', () => {
  expect(countNotPassed([0.2, 0.5, 0.2, 0.1], 0.1)).toBe(2);
  expect(countNotPassed([0, 0, 1], 0.1)).toBe(2);
});

test('what is no share and no count is refused', () => {
  expect(() => finalEnrolment([1], 0, 1.1)).toThrow('A share is between 0 and 1');
  expect(() => finalEnrolment([1], 0.5, 0)).toThrow('Booked places');
  expect(() => chanceBooked([1], { booked: 0, share: 0, by: Number.NaN, least: 1 })).toThrow('A share is');
});
