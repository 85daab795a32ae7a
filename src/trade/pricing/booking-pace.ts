import { wholeIn } from '../maths/number.js';

/** Places that were booked whole days before their course began, and stood when it did. */
export type BookingLead = { daysBefore: number; places: number };

/** Of all who book in the end, the share (0..1) that had booked so many days before the beginning. It never falls as the day comes nearer. */
export type BookingPace = (daysBefore: number) => number;

/** Half of those who book do so in the last three weeks: common practice, no source. It counts as much as so many booked places. */
const ASSUMED_HALF_DAYS = 21;
const ASSUMED_PLACES = 10;

/** When people book, from when they did; with few of them it leans on what is assumed. */
export function paceOf(leads: readonly BookingLead[]): BookingPace {
  const all = leads.reduce((sum, { places }) => sum + places, 0);
  return (daysBefore) => {
    if (daysBefore <= 0) return 1;
    const early = leads.reduce((sum, lead) => (lead.daysBefore >= daysBefore ? sum + lead.places : sum), 0);
    return (ASSUMED_PLACES * 0.5 ** (daysBefore / ASSUMED_HALF_DAYS) + early) / (ASSUMED_PLACES + all);
  };
}

/**
 * How many will have booked in the end, given how many have by now and what share of all has booked by now as a rule. By Bayes' rule
 * on the price's own distribution, each of those who book in the end having done so by now with the same chance (a thinned count):
 * P(n | k) is in proportion to P(n) C(n, k) share^k (1 - share)^(n - k).
 *
 * @param prior  chances of 0, 1, 2, ... places in the end, before anything is known of this course
 * @param booked whole; those beyond what the prior holds possible stay what they are
 * @param share  0..1
 * @returns chances of 0, 1, 2, ... places in the end, adding up to 1 within 1e-12
 * @throws RangeError on arguments outside the above
 */
export function finalEnrolment(prior: readonly number[], booked: number, share: number): number[] {
  wholeIn(booked, 'Booked places', 0, Number.MAX_SAFE_INTEGER);
  inUnit(share);
  const none = Array.from({ length: Math.max(prior.length, booked + 1) }, () => 0);
  let ways = 1; // C(n, booked) (1 - share)^(n - booked), from n = booked on
  const weights = none.map((_, n) => {
    if (n < booked) return 0;
    if (n > booked) ways *= (n / (n - booked)) * (1 - share);
    return (prior[n] ?? 0) * ways;
  });
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  return total > 0 ? weights.map((weight) => weight / total) : none.map((_, n) => (n === booked ? 1 : 0));
}

/**
 * The chance that so many have booked by a later time, at which a share `by` of all have as a rule: each of those still to book does so by
 * then with the chance (by - share) / (1 - share).
 *
 * @param final  what finalEnrolment returns for `booked` and `share`
 * @param share  0..1, of now
 * @param by     share..1
 */
export function chanceBooked(
  final: readonly number[],
  { booked, share, by, least }: { booked: number; share: number; by: number; least: number },
): number {
  inUnit(share);
  inUnit(by);
  const missing = least - booked;
  if (missing <= 0) return 1;
  const each = share < 1 ? Math.max(0, (by - share) / (1 - share)) : 1;
  return final.reduce((sum, chance, n) => (chance > 0 ? sum + chance * atLeastOf(n - booked, each, missing) : sum), 0);
}

/** The chance of at least `least` (above zero) of so many independent ones, by the binomial's terms from all down. */
function atLeastOf(all: number, each: number, least: number): number {
  if (all < least || each === 0) return 0;
  if (each >= 1) return 1;
  let term = each ** all;
  let sum = term;
  for (let n = all; n > least; n--) {
    term *= (n / (all - n + 1)) * ((1 - each) / each);
    sum += term;
  }
  return Math.min(1, sum);
}

/** The least number that is reached with a chance of at most `beyond` of more: 0.1 gives what 9 in 10 stay at or below. */
export function countNotPassed(chances: readonly number[], beyond: number): number {
  let above = 1;
  for (const [n, chance] of chances.entries()) {
    above -= chance;
    if (above <= beyond + 1e-12) return n;
  }
  return chances.length - 1;
}

function inUnit(share: number): void {
  if (!(share >= 0 && share <= 1)) throw new RangeError(`A share is between 0 and 1, not ${share}.`);
}
