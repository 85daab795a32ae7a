import { wholeIn } from '../maths/number.js';
import { Decimal } from '../money/money.js';
import { betaBinomial, MOST_PLACES } from './enrolment.js';

/** A course that was offered: its places (1..200), and how many of them were booked on the decision day. */
export type PastCourse = { places: number; booked: number };

/** The two numbers of a beta-binomial (see betaBinomial), as decimal strings. */
type Enrolment = { alpha: string; beta: string };

/** What a fit rests on. Percentages are whole. */
type Evidence = {
  /** past courses of the plan, and of all other plans */
  own: number;
  others: number;
  /** the share of places that fills on average, by the fit */
  fillPercent: number;
  /** how much the plan's own courses count, and how much the owner's setting still does; the rest is the other courses */
  ownPercent: number;
  settingPercent: number;
};

/** The owner's setting counts as much as so many courses of the studio, and all the others as much as so many of the plan. */
const SETTING_COURSES = 3;
const STUDIO_COURSES = 5;

/** Bounds of what is searched: the expected fill, and alpha + beta (the smaller, the more courses differ). */
const [LEAST_FILL, MOST_FILL] = [0.002, 0.998];
const [LEAST_SIZE, MOST_SIZE] = [0.5, 10_000];
const SIGNIFICANT_DIGITS = 5;

/**
 * How many book, learnt from past courses in two steps: the studio's other courses correct the owner's setting, which counts as
 * three courses; the plan's own courses correct what the others say, which counts as five. So a plan's first courses hardly
 * move it, with five they count half, and no course is used twice. The two numbers are common practice (a guess is worth a few
 * courses; plans of one studio resemble each other), not estimates: a studio has too few plans to estimate them from.
 *
 * @param setting what the owner expects; it is returned unchanged where there are no past courses
 * @throws RangeError on a course with more bookings than places, or numbers outside the bounds of betaBinomial
 */
export function fitEnrolment(
  own: readonly PastCourse[],
  others: readonly PastCourse[],
  setting: Enrolment,
): Enrolment & { evidence: Evidence } {
  const studio = likeliestEnrolment(others, setting, SETTING_COURSES);
  const fit = likeliestEnrolment(own, studio, STUDIO_COURSES);
  const ownPart = own.length / (own.length + STUDIO_COURSES);
  const settingPart = (1 - ownPart) * (SETTING_COURSES / (others.length + SETTING_COURSES));
  const evidence = {
    ...{ own: own.length, others: others.length },
    fillPercent: percent(new Decimal(fit.alpha).div(new Decimal(fit.alpha).plus(fit.beta))),
    ownPercent: percent(ownPart),
    settingPercent: percent(settingPart),
  };
  return { ...fit, evidence };
}

const percent = (part: Decimal | number) => new Decimal(part).times(100).round().toNumber();

/**
 * The alpha and beta under which the courses, and `priorCourses` more of the same sizes that came out exactly as the prior
 * says, are likeliest. The imagined courses (a power prior: Ibrahim and Chen 2000) hold the answer where the courses alone can't:
 * all full, all empty, or more alike than chance allows. Without any course it is the prior itself. The beta-binomial is
 * Skellam's (1948), its fit by maximum likelihood Griffiths' (1973); sources from memory.
 *
 * For a given alpha + beta the likelihood is concave in the expected fill, which is found by halving; alpha + beta by a grid of
 * its logarithm, so that a second, lower peak does no harm, and then by halving. The fill is sought within 0.002..0.998, and
 * alpha + beta from 0.5 to the prior's own with all places that were ever offered added, 10000 at most: courses that were all alike
 * by chance make nobody surer than if each place had been a toss of one coin (Bayes' rule for a binomial). Floats do, since a few
 * courses tell two digits at best; the result is rounded to five.
 *
 * @param priorCourses 0 or more; 0 is plain maximum likelihood
 * @throws RangeError as fitEnrolment does
 */
export function likeliestEnrolment(courses: readonly PastCourse[], prior: Enrolment, priorCourses: number): Enrolment {
  if (courses.length === 0) return prior;
  const tally = tallyOf(courses, prior, priorCourses);
  const at = (logSize: number) => bestOfSize(tally, Math.exp(logSize));
  const offered = courses.reduce((sum, { places }) => sum + places, Number(prior.alpha) + Number(prior.beta));
  const [least, most] = [Math.log(LEAST_SIZE), Math.log(Math.min(offered, MOST_SIZE))];
  const step = (most - least) / GRID_STEPS;
  const heights = Array.from({ length: GRID_STEPS + 1 }, (_, i) => logLikelihood(tally, at(least + i * step)));
  const top = least + heights.indexOf(Math.max(...heights)) * step;
  const logSize = halved(Math.max(least, top - step), Math.min(most, top + step), (t) => rises(tally, at(t)));
  const { alpha, beta } = at(logSize);
  return { alpha: asText(alpha), beta: asText(beta) };
}

const asText = (x: number) => new Decimal(x).toSignificantDigits(SIGNIFICANT_DIGITS).toFixed();

/** A course of one place says nothing about how much courses differ, so that those imagined have two at least. */
const LEAST_TELLING = 2;

/** For i = 0, 1, 2, ... the weight of all courses in which more than i places were booked, were left free, or existed. */
type Tally = { booked: number[]; free: number[]; places: number[] };

function tallyOf(courses: readonly PastCourse[], prior: Enrolment, priorCourses: number): Tally {
  const sizes = courses.map(({ places }) => wholeIn(places, 'The places of a past course', 1, MOST_PLACES));
  const most = Math.max(LEAST_TELLING, ...sizes);
  const tally: Tally = { booked: zeros(most), free: zeros(most), places: zeros(most) };
  const add = (places: number, booked: number, weight: number) => {
    count(tally.booked, booked, weight);
    count(tally.free, places - booked, weight);
    count(tally.places, places, weight);
  };
  const ofSize = new Map<number, number>();
  for (const { places, booked } of courses) {
    add(places, wholeIn(booked, 'The bookings of a past course', 0, places), 1);
    const telling = Math.max(places, LEAST_TELLING);
    ofSize.set(telling, (ofSize.get(telling) ?? 0) + 1);
  }
  for (const [places, number] of priorCourses > 0 ? ofSize : []) {
    const each = (priorCourses * number) / courses.length;
    for (const [booked, chance] of betaBinomial(places, prior.alpha, prior.beta).entries())
      add(places, booked, each * chance.toNumber());
  }
  for (const weights of Object.values(tally))
    for (let i = most - 2; i >= 0; i--) weights[i] = (weights[i] ?? 0) + (weights[i + 1] ?? 0);
  return tally;
}

const zeros = (length: number): number[] => Array.from({ length }, () => 0);

/** Adds to the last of the thresholds 0, 1, 2, ... that `number` exceeds; those below follow when all are counted. */
function count(weights: number[], number: number, weight: number): void {
  if (number > 0) weights[number - 1] = (weights[number - 1] ?? 0) + weight;
}

type Shape = { alpha: number; beta: number };

/** Of all with this alpha + beta the likeliest: where the slope, which only falls as the fill grows, is zero. */
function bestOfSize({ booked, free }: Tally, size: number): Shape {
  const fill = halved(LEAST_FILL, MOST_FILL, (x) => reciprocals(booked, x * size) > reciprocals(free, (1 - x) * size));
  return { alpha: fill * size, beta: (1 - fill) * size };
}

/** The log likelihood, without the binomial coefficients, which don't depend on alpha and beta. */
function logLikelihood({ booked, free, places }: Tally, { alpha, beta }: Shape): number {
  const sum = (weights: readonly number[], start: number) =>
    weights.reduce((total, weight, i) => (weight > 0 ? total + weight * Math.log(start + i) : total), 0);
  return sum(booked, alpha) + sum(free, beta) - sum(places, alpha + beta);
}

/** Whether it grows as alpha and beta grow in proportion. */
function rises({ booked, free, places }: Tally, { alpha, beta }: Shape): boolean {
  const size = alpha + beta;
  return alpha * reciprocals(booked, alpha) + beta * reciprocals(free, beta) > size * reciprocals(places, size);
}

function reciprocals(weights: readonly number[], start: number): number {
  let sum = 0;
  for (let i = 0; i < weights.length; i++) sum += (weights[i] ?? 0) / (start + i);
  return sum;
}

const GRID_STEPS = 16;
const HALVINGS = 24; // 2^-24: seven digits

/** Where something stops to rise, between two ends; an end where it always or never does. */
function halved(from: number, to: number, stillRises: (x: number) => boolean): number {
  let [low, high] = [from, to];
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (low + high) / 2;
    if (stillRises(middle)) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
