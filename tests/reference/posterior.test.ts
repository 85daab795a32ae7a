import { describe, expect, it } from 'vitest';
import { bandOf, posteriorOfMean } from '../../src/trade/maths/posterior.js';
import { Decimal } from '../../src/trade/money/money.js';

// Source: P. D. Hoff, A First Course in Bayesian Statistical Methods, Springer 2009, section 5.3: wing lengths of nine midges in mm
// (W. L. Grogan and W. W. Wirth 1981), prior mean 1.9 and variance 0.010, each worth one measurement. The data and the prior were read
// in transcriptions of the example; the posterior that the book prints (mean 1.814, variance 0.015) is from memory.
const WINGS = ['1.64', '1.70', '1.72', '1.74', '1.82', '1.82', '1.82', '1.90', '2.08'].map((mm) => new Decimal(mm));

describe('a mean that is learnt, against a published example', () => {
  const found = posteriorOfMean({ mean: new Decimal('1.9'), spread: new Decimal('0.01').sqrt() }, WINGS);

  it('has its mean, its variance and its ten degrees of freedom', () => {
    expect(found.mean.toNumber()).toBeCloseTo(1.814, 3);
    expect(found.variance.toNumber()).toBeCloseTo(0.015, 3);
    expect(found.freedom).toBe(10);
  });

  // by t(0.975, 10) = 2.228 of the printed table and the exact variance 0.015324
  it('has the band that follows from them', () => {
    const [low, high] = bandOf(found, 0.975);
    expect(low.toNumber()).toBeCloseTo(1.7268, 4);
    expect(high.toNumber()).toBeCloseTo(1.9012, 4);
  });
});
