import { decimalIn, wholeIn } from '../maths/number.js';
import { Decimal } from '../money/money.js';
import { MAX_MINOR, parseMinor } from '../money/money-limits.js';
import { type CostedLine, checkSource, lineTotal, readLines } from './cost-lines.js';
import { betaBinomial, MOST_PLACES, probabilityBelow } from './enrolment.js';
import type { PriceInputs } from './price-inputs.js';
import { readTakings, type Takings } from './takings.js';

/** A course with so many students: how likely that is, and what it costs and takes if it is held. */
export interface Turnout {
  students: number;
  probability: Decimal;
  held: boolean;
  /** all costs but the card company's percentage and the owner's time */
  costMinor: Decimal;
  ownerHours: Decimal;
}

/** The inputs, read and checked, and arranged by the number of students. Money is exact, in minor units. */
export interface PriceTerms {
  lines: CostedLine[];
  perStudentMinor: Decimal;
  fixedMinor: Decimal;
  sunkIfCancelledMinor: Decimal;
  takings: Takings;
  wagePerHourMinor: number;
  payFloorPerHourMinor: number;
  targetSurplusMinor: number;
  poorAtMost: Decimal;
  priceStepMinor: number;
  /** of 0..places bookings */
  probabilities: Decimal[];
  probabilityCancelled: Decimal;
  /** one for each number of students from 1 to places; from 0 where it is held with nobody too */
  turnouts: Turnout[];
}

/**
 * An exact result without the crumbs of division: at its own break-even price a course must come out at nothing, not
 * at a 10^-37th of a penny below it, or it would be counted as underpaid and its price rounded up by a whole step.
 */
export function settled(x: Decimal): Decimal {
  return x.toDecimalPlaces(20, Decimal.ROUND_HALF_UP);
}

/** For JSON: a price or a probability. It keeps more places than `settled` does, so that a price read back settles. */
export function asText(x: Decimal): string {
  return x.toDecimalPlaces(25, Decimal.ROUND_HALF_UP).toFixed();
}

/** The distribution of bookings, each worked out once: many changes to a course leave it as it is. */
export function rememberedEnrolment(): typeof betaBinomial {
  const known = new Map<string, Decimal[]>();
  return (places, alpha, beta) => {
    const name = `${places} ${alpha} ${beta}`;
    const found = known.get(name) ?? betaBinomial(places, alpha, beta);
    known.set(name, found);
    return found;
  };
}

/** @throws RangeError with a sentence that says what to mend */
export function readTerms(inputs: PriceInputs, enrolment = betaBinomial): PriceTerms {
  if (!/^[A-Z]{3}$/.test(inputs.currency)) throw new RangeError('Give the currency by its three letters, such as EUR.');
  wholeIn(inputs.places, 'Places', 1, MOST_PLACES);
  wholeIn(inputs.minimum, 'The least number of students', 0, inputs.places);
  checkSource(inputs.enrolment.source, 'the expected enrolment');

  const lines = readLines(inputs.lines);
  const probabilities = enrolment(inputs.places, inputs.enrolment.alpha, inputs.enrolment.beta);
  const read = {
    takings: readTakings(inputs),
    ...readWishes(inputs),
    lines,
    perStudentMinor: lineTotal(lines, 'per-student'),
    fixedMinor: lineTotal(lines, 'per-course'),
    sunkIfCancelledMinor: lineTotal(lines, 'if-cancelled'),
    probabilities,
    probabilityCancelled: probabilityBelow(probabilities, inputs.minimum),
  };
  return { ...read, turnouts: turnoutsOf(inputs, read) };
}

function turnoutsOf(inputs: PriceInputs, read: Omit<PriceTerms, 'turnouts'>): Turnout[] {
  const { hours, hoursEach, feeMinor, above } = readWork(inputs);
  const perStudent = read.perStudentMinor.plus(read.takings.cardFixedMinor);

  const least = Math.min(inputs.minimum, 1);
  return read.probabilities.slice(least).map((probability, i) => {
    const students = i + least;
    const tutor = students > above ? feeMinor : 0;
    return {
      students,
      probability,
      held: students >= inputs.minimum,
      costMinor: perStudent.times(students).plus(read.fixedMinor).plus(tutor),
      ownerHours: hoursEach.times(students).plus(hours),
    };
  });
}

type Work = Pick<PriceInputs, 'ownerHours' | 'ownerHoursPerStudent' | 'secondTutor'>;

/** What it takes to hold it: the owner's hours, and a second tutor above so many students. */
export function readWork(inputs: Work) {
  const hours = decimalIn(inputs.ownerHours, "The owner's hours", 0, 10_000);
  if (hours.isZero()) {
    throw new RangeError("Enter the owner's hours: even a course that somebody else teaches takes some.");
  }
  const hoursEach = decimalIn(inputs.ownerHoursPerStudent, "The owner's hours for each student", 0, 1_000);
  const { feeMinor, above } = inputs.secondTutor ?? { feeMinor: 0, above: 0 };
  parseMinor(feeMinor, "The second tutor's fee");
  wholeIn(above, 'The number of students above which a second tutor comes', 0, MOST_PLACES);
  return { hours, hoursEach, feeMinor, above };
}

function readWishes(inputs: PriceInputs) {
  return {
    wagePerHourMinor: parseMinor(inputs.wagePerHourMinor, "The owner's wage per hour"),
    payFloorPerHourMinor: parseMinor(inputs.payFloorPerHourMinor, 'The least acceptable pay per hour'),
    targetSurplusMinor: parseMinor(inputs.targetSurplusMinor, 'The surplus aimed at'),
    poorAtMost: decimalIn(inputs.poorAtMost, 'The acceptable probability of a poorly paid course', 0, 1),
    priceStepMinor: wholeIn(inputs.priceStepMinor, 'The price step, in minor units,', 1, MAX_MINOR),
  };
}
