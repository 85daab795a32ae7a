import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { betaBinomial } from '../../../src/trade/pricing/enrolment.js';
import { fitEnrolment, likeliestEnrolment, type PastCourse } from '../../../src/trade/pricing/enrolment-fit.js';

const SETTING = { alpha: '7.5', beta: '2.5' };
const courses = (number: number, places: number, booked: number): PastCourse[] =>
  Array.from({ length: number }, () => ({ places, booked }));
const fill = ({ alpha, beta }: { alpha: string; beta: string }) => Number(alpha) / (Number(alpha) + Number(beta));

const pastCourse = fc
  .integer({ min: 1, max: 20 })
  .chain((places) => fc.record({ places: fc.constant(places), booked: fc.integer({ min: 0, max: places }) }));
const past = fc.array(pastCourse, { maxLength: 12 });

describe('enrolment learnt from past courses', () => {
  it('is the setting, as it stands, until a course was held', () => {
    expect(fitEnrolment([], [], SETTING)).toEqual({
      ...SETTING,
      evidence: { own: 0, others: 0, fillPercent: 75, ownPercent: 0, settingPercent: 100 },
    });
  });

  it('says what it rests on', () => {
    const { evidence } = fitEnrolment(courses(6, 8, 7), courses(14, 10, 8), SETTING);
    // 6 / (6 + 5); of the other 5 / 11, 3 / (3 + 14) is the setting's
    expect(evidence).toMatchObject({ own: 6, others: 14, ownPercent: 55, settingPercent: 8 });
    expect(evidence.fillPercent).toBeGreaterThan(80);
    expect(evidence.fillPercent).toBeLessThan(88);
  });

  it('takes a plan without a past for one like the others', () => {
    const others = [...courses(5, 8, 7), ...courses(4, 8, 3)];
    const learnt = fitEnrolment([], others, SETTING);
    expect(learnt).toMatchObject(likeliestEnrolment(others, SETTING, 3));
    expect(fill(learnt)).toBeLessThan(fill(SETTING));
  });

  it('follows a plan that differs from the others by as much as its history counts', () => {
    const others = courses(20, 8, 6);
    const fills = [0, 1, 5, 100].map((number) => fill(fitEnrolment(courses(number, 8, 2), others, SETTING)));
    expect(fills).toEqual([...fills].sort((a, b) => b - a));
    expect(fills[0]).toBeCloseTo(0.75, 2);
    expect(fills[2]).toBeCloseTo(0.5, 1); // five of its own count as much as all that went before
    expect(fills[3]).toBeLessThan(0.3);
    expect(fills[3]).toBeGreaterThan(0.25);
  });

  it('is no surer than one coin for every place would make it, even where all courses were alike', () => {
    const size = ({ alpha, beta }: { alpha: string; beta: string }) => Number(alpha) + Number(beta);
    expect(size(fitEnrolment(courses(2, 8, 6), [], SETTING))).toBeCloseTo(10 + 16, 1);
    expect(size(fitEnrolment(courses(20, 8, 6), [], SETTING))).toBeCloseTo(10 + 160, 1);
    expect(size(fitEnrolment(courses(5, 8, 6), courses(20, 8, 6), SETTING))).toBeCloseTo(10 + 160 + 40, 1);
    const many = fitEnrolment(courses(10_000, 8, 6), [], SETTING);
    expect(size(many)).toBeCloseTo(10_000, -1);
    expect(fill(many)).toBeCloseTo(0.75, 4);
  });

  it.each([
    ['full', 8, 1],
    ['empty', 0, 0],
  ])('stays a distribution where all courses were %s', (_, booked, end) => {
    for (const number of [1, 3, 20, 1000]) {
      const learnt = fitEnrolment(courses(number, 8, booked), courses(number, 8, booked), SETTING);
      expect(Math.abs(fill(learnt) - end)).toBeGreaterThan(0.0019);
      for (const p of betaBinomial(8, learnt.alpha, learnt.beta)) expect(p.gt(0)).toBe(true);
    }
    const few = fitEnrolment(courses(2, 8, booked), [], SETTING);
    const many = fitEnrolment(courses(50, 8, booked), [], SETTING);
    expect(Math.abs(fill(few) - end)).toBeGreaterThan(Math.abs(fill(many) - end));
  });

  it('takes courses of any size together, up to 200 places', () => {
    const mixed = [...courses(3, 1, 1), ...courses(3, 12, 6), ...courses(2, 200, 150)];
    const learnt = fitEnrolment(mixed, mixed, SETTING);
    expect(fill(learnt)).toBeGreaterThan(0.5);
    expect(fill(learnt)).toBeLessThan(0.9);
  });

  it('gives what betaBinomial takes, whatever the past and the setting', () => {
    const shape = fc.integer({ min: 1, max: 10_000_000 }).map((n) => String(n / 1000));
    fc.assert(
      fc.property(past, past, shape, shape, (own, others, alpha, beta) => {
        const learnt = fitEnrolment(own, others, { alpha, beta });
        expect(() => betaBinomial(20, learnt.alpha, learnt.beta)).not.toThrow();
        expect(learnt).toEqual(fitEnrolment([...own].reverse(), [...others].reverse(), { alpha, beta }));
      }),
      { numRuns: 60 },
    );
  });

  it('keeps the certainty of the setting where courses of one place can tell nothing about it', () => {
    const { alpha, beta } = fitEnrolment([...courses(3, 1, 1), ...courses(1, 1, 0)], [], SETTING);
    expect(Number(alpha) + Number(beta)).toBeCloseTo(10, 1);
    expect(fill({ alpha, beta })).toBeCloseTo(0.75, 3);
  });

  it('is mirrored where booked and free places change places', () => {
    fc.assert(
      fc.property(past, past, (own, others) => {
        const mirrored = (list: PastCourse[]) => list.map((c) => ({ ...c, booked: c.places - c.booked }));
        const learnt = fitEnrolment(own, others, SETTING);
        const other = fitEnrolment(mirrored(own), mirrored(others), { alpha: SETTING.beta, beta: SETTING.alpha });
        expect(Number(other.alpha) / Number(learnt.beta)).toBeCloseTo(1, 3);
        expect(Number(other.beta) / Number(learnt.alpha)).toBeCloseTo(1, 3);
      }),
      { numRuns: 60 },
    );
  });

  it('stays where it was when courses come out just as expected', () => {
    // alpha = beta = 1 is uniform, and so were these
    const uniform = { alpha: '1', beta: '1' };
    const even = [0, 1, 2, 3].map((booked) => ({ places: 3, booked }));
    const { alpha, beta } = likeliestEnrolment(even, uniform, 5);
    expect(Number(alpha)).toBeCloseTo(1, 4);
    expect(Number(beta)).toBeCloseTo(1, 4);
  });

  it.each([
    [{ places: 8, booked: 9 }, /^The bookings of a past course must be a whole number between 0 and 8\.$/],
    [{ places: 0, booked: 0 }, /^The places of a past course must be a whole number between 1 and 200\.$/],
    [{ places: 201, booked: 0 }, /^The places of a past course/],
    [{ places: 8, booked: 0.5 }, /^The bookings of a past course/],
  ])('refuses %o', (course, message) => {
    expect(() => fitEnrolment([course], [], SETTING)).toThrow(RangeError);
    expect(() => fitEnrolment([], [course], SETTING)).toThrow(message);
  });
});
