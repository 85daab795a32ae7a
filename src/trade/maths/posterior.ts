import { Decimal } from '../money/money.js';
import { studentQuantile } from './quantiles.js';

/** What is thought of a figure before it is measured. It weighs as much as one measurement, of its mean and of its spread alike. */
export type Prior = { mean: Decimal; spread: Decimal };

/** Student's t about `mean`: `scale` for each step of it, with so many degrees of freedom. */
export type Posterior = { mean: Decimal; variance: Decimal; scale: Decimal; freedom: number };

/**
 * What is thought of the mean of a figure once it was measured n times: the normal model with mean and spread unknown, whose prior
 * weighs one measurement (κ₀ = ν₀ = 1). mean = (m₀ + Σx) / (n + 1), and the variance of a single measurement is
 * (s₀² + Σ(x - x̄)² + n (x̄ - m₀)² / (n + 1)) / (n + 1), of the mean an (n + 1)th of it. So measurements that happen to be alike make
 * nobody certain, and a prior that they contradict makes the band wider.
 * Source: P. D. Hoff, A First Course in Bayesian Statistical Methods, Springer 2009, section 5.3.
 *
 * @param values at least one
 */
export function posteriorOfMean(prior: Prior, values: readonly Decimal[]): Posterior {
  const freedom = values.length + 1;
  const mean = values.reduce((sum, value) => sum.plus(value), prior.mean).div(freedom);
  const measured = values.reduce((sum, value) => sum.plus(value), new Decimal(0)).div(values.length);
  const about = values.reduce((sum, value) => sum.plus(value.minus(measured).pow(2)), new Decimal(0));
  const apart = measured.minus(prior.mean).pow(2).times(values.length).div(freedom);
  const variance = prior.spread.pow(2).plus(about).plus(apart).div(freedom);
  return { mean, variance, scale: variance.div(freedom).sqrt(), freedom };
}

/** Between which two values the mean lies with a chance of 2 `tail` - 1. */
export function bandOf({ mean, scale, freedom }: Posterior, tail: number): [low: Decimal, high: Decimal] {
  const reach = scale.times(studentQuantile(tail, freedom));
  return [mean.minus(reach), mean.plus(reach)];
}
