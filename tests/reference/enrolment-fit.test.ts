import cephes from 'cephes';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { betaBinomial } from '../../src/trade/pricing/enrolment.js';
import { likeliestEnrolment, type PastCourse } from '../../src/trade/pricing/enrolment-fit.js';

const ANY = { alpha: '1', beta: '1' };
const numbers = ({ alpha, beta }: { alpha: string; beta: string }) => ({ alpha: Number(alpha), beta: Number(beta) });
/** So many courses of `places` with 0, 1, 2, ... bookings. */
const counted = (places: number, counts: readonly number[]): PastCourse[] =>
  counts.flatMap((count, booked) => Array.from({ length: count }, () => ({ places, booked })));

/** The log likelihood by Cephes' lbeta, binomial coefficients included. */
const logLikelihood = (courses: readonly PastCourse[], alpha: number, beta: number) =>
  courses.reduce(
    (sum, { places: n, booked: k }) =>
      sum +
      cephes.lbeta(k + alpha, n - k + beta) -
      cephes.lbeta(alpha, beta) -
      cephes.lbeta(k + 1, n - k + 1) -
      Math.log(n + 1),
    0,
  );

// Source: A. Geissler (1889), boys among the first twelve children of 6115 families in Saxony; the table, the estimates of both
// kinds and the log likelihood as Wikipedia's "Beta-binomial distribution" gives them.
describe("the boys of Saxony's families", () => {
  const families = counted(12, [3, 24, 104, 286, 670, 1033, 1343, 1112, 829, 478, 181, 45, 7]);

  it('are fitted as published: 34.096 and 31.572, to what their own rounding allows', () => {
    expect(families).toHaveLength(6115);
    const { alpha, beta } = numbers(likeliestEnrolment(families, ANY, 0));
    expect(alpha / 34.09558).toBeCloseTo(1, 3);
    expect(beta / 31.5715).toBeCloseTo(1, 3);
    expect(alpha / beta / (34.09558 / 31.5715)).toBeCloseTo(1, 4);
    expect(logLikelihood(families, alpha, beta)).toBeCloseTo(-12_492.9, 1);
    expect(logLikelihood(families, alpha, beta)).toBeGreaterThanOrEqual(logLikelihood(families, 34.09558, 31.5715));
  });

  it('are likelier under it than under the method of moments', () => {
    const n = 12;
    const mean = families.reduce((sum, { booked }) => sum + booked, 0) / families.length;
    const second = families.reduce((sum, { booked }) => sum + booked ** 2, 0) / families.length;
    const down = n * (second / mean - mean - 1) + mean;
    const moments = { alpha: (n * mean - second) / down, beta: ((n - mean) * (n - second / mean)) / down };
    expect(moments.alpha).toBeCloseTo(34.135, 3);
    expect(moments.beta).toBeCloseTo(31.6085, 3);
    const { alpha, beta } = numbers(likeliestEnrolment(families, ANY, 0));
    expect(logLikelihood(families, alpha, beta)).toBeGreaterThan(logLikelihood(families, moments.alpha, moments.beta));
    expect(alpha / moments.alpha).toBeCloseTo(1, 2);
  });
});

// Source: Cephes Mathematical Library (S. L. Moshier), lbeta and psi, by the npm package `cephes`.
describe('the fit against Cephes', () => {
  const course = fc
    .integer({ min: 2, max: 12 })
    .chain((places) => fc.record({ places: fc.constant(places), booked: fc.integer({ min: 0, max: places }) }));
  const history = fc.array(course, { minLength: 2, maxLength: 15 });
  const shape = fc.integer({ min: 1, max: 400 }).map((tenths) => tenths / 10);

  it('is at least as likely as any other alpha and beta within its bounds', () => {
    fc.assert(
      fc.property(history, fc.array(fc.tuple(shape, shape), { minLength: 20, maxLength: 20 }), (courses, others) => {
        const { alpha, beta } = numbers(likeliestEnrolment(courses, ANY, 0));
        const best = logLikelihood(courses, alpha, beta);
        const close = [0.5, 0.98, 1.02, 2].flatMap((by) => [
          [alpha * by, beta * by],
          [alpha * by, beta],
          [alpha, beta * by],
        ]);
        const most = courses.reduce((sum, { places }) => sum + places, 2);
        for (const [a = 1, b = 1] of [...others, ...close]) {
          if (a + b < 0.5 || a + b > most || a / (a + b) < 0.002 || a / (a + b) > 0.998) continue;
          expect(best).toBeGreaterThan(logLikelihood(courses, a, b) - 1e-7);
        }
      }),
    );
  });

  it('lies where both slopes of the likelihood are zero', () => {
    const courses = [...counted(8, [1, 2, 1, 0, 3, 4, 6, 5, 9]), ...counted(5, [2, 0, 1, 3, 2, 4])];
    const { alpha, beta } = numbers(likeliestEnrolment(courses, ANY, 0));
    const slope = (own: (course: PastCourse) => number, start: number) =>
      courses.reduce(
        (sum, course) =>
          sum +
          cephes.psi(own(course) + start) -
          cephes.psi(start) -
          cephes.psi(course.places + alpha + beta) +
          cephes.psi(alpha + beta),
        0,
      );
    expect(slope(({ booked }) => booked, alpha)).toBeCloseTo(0, 2); // as near as five digits come
    expect(slope(({ places, booked }) => places - booked, beta)).toBeCloseTo(0, 2);
  });

  it('with imagined courses is the fit of the courses and those together', () => {
    // alpha = beta = 1 is uniform (from memory): two imagined courses of 3 places are half a course of each outcome, so that
    // twice the past with four of them is the plain fit of twice the past and one of each
    const courses = counted(3, [1, 0, 2, 5]);
    const together = [...courses, ...courses, ...counted(3, [1, 1, 1, 1])];
    const wanted = numbers(likeliestEnrolment(together, ANY, 0));
    const { alpha, beta } = numbers(likeliestEnrolment(courses, ANY, 2));
    expect(alpha).toBeCloseTo(wanted.alpha, 4);
    expect(beta).toBeCloseTo(wanted.beta, 4);
  });
});

// Source: the likelihood's own theory: of a past that came out exactly in proportion to the probabilities, the fit is where they
// came from (Gibbs' inequality).
describe('the fit of a past that is just as probable', () => {
  it.each([
    [8, 7.5, 2.5],
    [12, 4, 4],
    [6, 0.8, 0.6],
    [200, 30, 12],
  ])('of %i places, with alpha %d and beta %d', (places, alpha, beta) => {
    const probabilities = betaBinomial(places, String(alpha), String(beta));
    const courses = counted(
      places,
      probabilities.map((p) => p.times(40_000).round().toNumber()),
    );
    const fit = numbers(likeliestEnrolment(courses, ANY, 0));
    expect(fit.alpha / alpha).toBeCloseTo(1, 1.7);
    expect(fit.beta / beta).toBeCloseTo(1, 1.7);
    const imagined = numbers(likeliestEnrolment([{ places, booked: 0 }], numbersAsText(alpha, beta), 1e9));
    expect(imagined.alpha / alpha).toBeCloseTo(1, 4);
    expect(imagined.beta / beta).toBeCloseTo(1, 4);
  });

  const numbersAsText = (alpha: number, beta: number) => ({ alpha: String(alpha), beta: String(beta) });
});
