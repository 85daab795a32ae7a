import { decimalIn, wholeIn } from '../maths/number.js';
import { bandOf, posteriorOfMean } from '../maths/posterior.js';
import { betaQuantile } from '../maths/quantiles.js';
import { Decimal } from '../money/money.js';

/** What past courses say of one figure of a plan. Decimal strings in the figure's own unit. */
export interface LearnedRate {
  planned: string;
  /** null where no course measured it */
  mean: string | null;
  /** the true mean lies between them with a chance of 8 in 10; null where no course measured it */
  low: string | null;
  high: string | null;
  courses: number;
  /** for the next plan: the mean of the courses, among which the plan's own figure counts as one */
  proposed: string;
}

const MOST = 1_000_000_000;
const DECIMALS = 6;
const TAIL = 0.9;

/**
 * How far courses are thought to lie from the plan's figure before any was measured, as a part of that figure: our own assumption, as
 * no published one is known. It weighs as much as one course.
 */
const SPREAD = '0.1';

/**
 * A figure that each course measures once, such as grams of clay per student. The plan's own figure counts as one course more, in the
 * mean and in its band alike (posterior.ts), so that three courses which happen to be alike are no certainty; cut off at nothing, as
 * no figure here is below it.
 *
 * @param planned  decimal string, at least 0, in the unit of the figure
 * @param measured one for each course, likewise
 * @throws RangeError on anything else
 */
export function learnMean(planned: string, measured: readonly string[]): LearnedRate {
  const plan = decimalIn(planned, "The plan's figure", 0, MOST);
  const values = measured.map((value) => decimalIn(value, 'A measured figure', 0, MOST));
  const count = values.length;
  if (count === 0)
    return { planned: asText(plan), mean: null, low: null, high: null, courses: 0, proposed: asText(plan) };
  const mean = values.reduce((total, value) => total.plus(value), new Decimal(0)).div(count);
  const posterior = posteriorOfMean({ mean: plan, spread: plan.times(SPREAD) }, values);
  const [low, high] = bandOf(posterior, TAIL);
  return {
    ...{ planned: asText(plan), courses: count, mean: asText(mean), proposed: asText(posterior.mean) },
    ...{ low: asText(Decimal.max(low, 0)), high: asText(high) },
  };
}

/**
 * The part of the pieces that is lost, in percent. The band is Jeffreys' over all pieces together: the tenth and the ninetieth
 * percentile of Beta(lost + 1/2, kept + 1/2), from nothing where none was lost and to all where all were (L. D. Brown, T. T. Cai,
 * A. DasGupta, "Interval estimation for a binomial proportion", Statistical Science 16, 2001). Pieces of one course are lost
 * together more often than that allows for, so that the truth is somewhat less sure. The plan counts as one course of the mean size.
 *
 * @param plannedPercent decimal string, of the pieces made, 0..100
 * @param courses        whole numbers; those without pieces tell nothing and are left out
 * @throws RangeError on anything else
 */
export function learnLosses(plannedPercent: string, courses: readonly { pieces: number; lost: number }[]): LearnedRate {
  const plan = decimalIn(plannedPercent, "The plan's losses in percent", 0, 100);
  const told = courses.filter(({ pieces, lost }) => {
    wholeIn(lost, 'The pieces lost', 0, wholeIn(pieces, 'The pieces of a course', 0, MOST));
    return pieces > 0;
  });
  if (told.length === 0)
    return { planned: asText(plan), mean: null, low: null, high: null, courses: 0, proposed: asText(plan) };
  const sum = (of: 'pieces' | 'lost') => told.reduce((total, course) => total + course[of], 0);
  const [pieces, lost] = [sum('pieces'), sum('lost')];
  const percentile = (chance: number) => String(betaQuantile(chance, lost + 0.5, pieces - lost + 0.5));
  const meanSize = new Decimal(pieces).div(told.length);
  return {
    planned: asText(plan),
    mean: asText(new Decimal(lost).times(100).div(pieces)),
    low: lost === 0 ? '0' : asText(new Decimal(percentile(1 - TAIL)).times(100)),
    high: lost === pieces ? '100' : asText(new Decimal(percentile(TAIL)).times(100)),
    courses: told.length,
    proposed: asText(
      plan
        .times(meanSize)
        .plus(lost * 100)
        .div(meanSize.plus(pieces)),
    ),
  };
}

/**
 * So many percent of the pieces made are lost where so many percent of those wanted are made again: 15 more on 100 are 15 lost of 115.
 *
 * @param remakesPercent decimal string, 0..500
 */
export function lossesPercent(remakesPercent: string): string {
  const remakes = decimalIn(remakesPercent, 'Remakes in percent', 0, 500);
  return asText(remakes.times(100).div(remakes.plus(100)));
}

/** The way back: so many percent of the pieces wanted must be made again where so many percent of those made are lost; null for all. */
export function remakesPercent(losses: string): string | null {
  const lost = decimalIn(losses, 'Losses in percent', 0, 100);
  return lost.eq(100) ? null : asText(lost.times(100).div(new Decimal(100).minus(lost)));
}

const asText = (x: Decimal): string => x.toDecimalPlaces(DECIMALS, Decimal.ROUND_HALF_UP).toFixed();
