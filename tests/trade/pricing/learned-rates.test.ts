import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { betaQuantile, studentQuantile } from '../../../src/trade/maths/quantiles.js';
import { learnLosses, learnMean, lossesPercent, remakesPercent } from '../../../src/trade/pricing/learned-rates.js';

describe('a figure that each course measures', () => {
  test('is the plan’s own where no course measured it', () => {
    expect(learnMean('1047', [])).toEqual({
      ...{ planned: '1047', mean: null, low: null, high: null, courses: 0, proposed: '1047' },
    });
  });

  test('moves half-way for one course, which is not certain either', () => {
    // about 1100: 100² of the plan's spread and 1/2 · 200² by which they differ, over 2 and 2; √7500 · t(0.9, 2) = 86.603 · 1.88562
    const learnt = learnMean('1000', ['1200']);
    expect(learnt).toMatchObject({ mean: '1200', proposed: '1100' });
    expect(Number(learnt.high) - 1100).toBeCloseTo(163.3, 1);
    expect(1100 - Number(learnt.low)).toBeCloseTo(163.3, 1);
  });

  test('is no certainty where three courses happen to be alike', () => {
    // a quarter of the plan's spread of 100², over 4: 25 · t(0.9, 4) = 25 · 1.53321
    const learnt = learnMean('1000', ['1000', '1000', '1000']);
    expect(learnt).toMatchObject({ mean: '1000', proposed: '1000' });
    expect(Number(learnt.low)).toBeCloseTo(961.67, 2);
    expect(Number(learnt.high)).toBeCloseTo(1038.33, 2);
  });

  test('has the band of its mean by Student’s t, with the plan as one course', () => {
    // about 1075: 100², 2 · 100² and 3/4 · 100² make 37,500, over 4 and 4; √2343.75 · t(0.9, 4) = 48.412 · 1.53321
    const learnt = learnMean('1000', ['1000', '1100', '1200']);
    expect(learnt).toMatchObject({ mean: '1100', courses: 3, proposed: '1075' });
    expect(Number(learnt.high) - 1075).toBeCloseTo(74.226, 2);
    expect(1075 - Number(learnt.low)).toBeCloseTo(74.226, 2);
    expect(learnMean('1', ['0', '9']).low).toBe('0');
  });

  test('lies between the plan and what was measured, and nears that with every course', () => {
    const value = fc.integer({ min: 0, max: 100_000 }).map(String);
    fc.assert(
      fc.property(value, fc.array(value, { minLength: 1, maxLength: 12 }), (planned, measured) => {
        const { mean, low, high, proposed } = learnMean(planned, measured);
        const [least, most] = [Number(planned), Number(mean)].sort((a, b) => a - b) as [number, number];
        expect(Number(proposed)).toBeGreaterThanOrEqual(least - 1e-5);
        expect(Number(proposed)).toBeLessThanOrEqual(most + 1e-5);
        expect(Number(low)).toBeLessThanOrEqual(Number(mean));
        expect(Number(high)).toBeGreaterThanOrEqual(Number(mean));
        if (Number(mean) > 0 || Number(planned) > 0) expect(Number(high)).toBeGreaterThan(Number(low));
        const twice = learnMean(planned, [...measured, ...measured]);
        const off = (p: string) => Math.abs(Number(p) - Number(mean));
        expect(off(twice.proposed)).toBeLessThanOrEqual(off(proposed) + 1e-5);
      }),
    );
  });

  test('is refused below nothing', () => {
    expect(() => learnMean('1', ['-1'])).toThrow('A measured figure must be between 0');
  });
});

describe('pieces lost', () => {
  test('count together, with the plan as one course of the mean size', () => {
    // 2 and 4 of 20 each: 15 %; the plan's 10 % is 2 of another 20: 8 of 60
    const learnt = learnLosses('10', [
      { pieces: 20, lost: 2 },
      { pieces: 20, lost: 4 },
      { pieces: 0, lost: 0 },
    ]);
    expect(learnt).toMatchObject({ mean: '15', courses: 2, proposed: '13.333333' });
    expect(Number(learnt.low)).toBeCloseTo(100 * betaQuantile(0.1, 6.5, 34.5), 5);
    expect(Number(learnt.high)).toBeCloseTo(100 * betaQuantile(0.9, 6.5, 34.5), 5);
  });

  test('begin at nothing where none was lost, and end at all where all were', () => {
    expect(learnLosses('10', [{ pieces: 8, lost: 0 }])).toMatchObject({ mean: '0', low: '0' });
    expect(learnLosses('10', [{ pieces: 8, lost: 8 }])).toMatchObject({ mean: '100', high: '100' });
    expect(learnLosses('10', [])).toMatchObject({ mean: null, proposed: '10', courses: 0 });
    expect(() => learnLosses('10', [{ pieces: 8, lost: 9 }])).toThrow('pieces lost');
  });

  test('and remakes are two ways to say it', () => {
    expect(lossesPercent('25')).toBe('20');
    expect(remakesPercent('20')).toBe('25');
    expect(remakesPercent('100')).toBeNull();
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 500 }), (remakes) => {
        expect(Number(remakesPercent(lossesPercent(String(remakes))))).toBeCloseTo(remakes, 3);
      }),
    );
  });
});

describe('a quantile', () => {
  test('is refused where there is none', () => {
    expect(() => betaQuantile(0, 1, 1)).toThrow('between 0 and 1');
    expect(() => betaQuantile(0.5, 0, 1)).toThrow('above 0');
    expect(() => studentQuantile(0.4, 3)).toThrow('between 0.5 and 1');
    expect(studentQuantile(0.5, 3)).toBe(0);
  });
});
