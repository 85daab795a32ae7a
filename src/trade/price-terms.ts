import { betaBinomial, MOST_PLACES, probabilityBelow } from './enrolment.js';
import { Decimal } from './money.js';
import { decimalIn, wholeIn } from './number.js';
import { MOST_MINOR, moneyIn } from './price-figures.js';
import type { CostLine, CostSource, PriceInputs } from './price-inputs.js';
import { readTakings, type Takings } from './price-takings.js';

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
  lines: { line: CostLine; amountMinor: Decimal }[];
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
  /** one for each number of students from 1 to places */
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
  wholeIn(inputs.minimum, 'The least number of students', 1, inputs.places);
  checkSource(inputs.enrolment.source, 'the expected enrolment');

  const lines = inputs.lines.map(readLine);
  if (new Set(inputs.lines.map((line) => line.key)).size < lines.length) {
    throw new RangeError('Two cost lines have the same key. Give each its own, or one would hide the other.');
  }
  const total = (basis: CostLine['basis']) =>
    lines.reduce((sum, { line, amountMinor }) => (line.basis === basis ? sum.plus(amountMinor) : sum), new Decimal(0));
  const probabilities = enrolment(inputs.places, inputs.enrolment.alpha, inputs.enrolment.beta);
  const read = {
    takings: readTakings(inputs),
    ...readWishes(inputs),
    lines,
    perStudentMinor: total('per-student'),
    fixedMinor: total('per-course'),
    sunkIfCancelledMinor: total('if-cancelled'),
    probabilities,
    probabilityCancelled: probabilityBelow(probabilities, inputs.minimum),
  };
  return { ...read, turnouts: turnoutsOf(inputs, read) };
}

function turnoutsOf(inputs: PriceInputs, read: Omit<PriceTerms, 'turnouts'>): Turnout[] {
  const hours = decimalIn(inputs.ownerHours, "The owner's hours", 0, 10_000);
  if (hours.isZero()) {
    throw new RangeError("Enter the owner's hours: even a course that somebody else teaches takes some.");
  }
  const hoursEach = decimalIn(inputs.ownerHoursPerStudent, "The owner's hours for each student", 0, 1_000);
  const { feeMinor, above } = inputs.secondTutor ?? { feeMinor: 0, above: 0 };
  moneyIn(feeMinor, "The second tutor's fee");
  wholeIn(above, 'The number of students above which a second tutor comes', 0, MOST_PLACES);
  const perStudent = read.perStudentMinor.plus(read.takings.cardFixedMinor);

  return read.probabilities.slice(1).map((probability, i) => {
    const students = i + 1;
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

function readWishes(inputs: PriceInputs) {
  return {
    wagePerHourMinor: moneyIn(inputs.wagePerHourMinor, "The owner's wage per hour"),
    payFloorPerHourMinor: moneyIn(inputs.payFloorPerHourMinor, 'The least acceptable pay per hour'),
    targetSurplusMinor: moneyIn(inputs.targetSurplusMinor, 'The surplus aimed at'),
    poorAtMost: decimalIn(inputs.poorAtMost, 'The acceptable probability of a poorly paid course', 0, 1),
    priceStepMinor: wholeIn(inputs.priceStepMinor, 'The price step, in minor units,', 1, MOST_MINOR),
  };
}

function readLine(line: CostLine) {
  const name = `"${line.label}"`;
  if (!['per-student', 'per-course', 'if-cancelled'].includes(line.basis)) {
    // an unknown basis would drop out of every total, and the course would look cheap
    throw new RangeError(`Say of ${name} whether it is paid per student, per course or if the course is cancelled.`);
  }
  checkSource(line.source, name);
  const quantity = decimalIn(line.quantity, `The quantity of ${name}`, 0, MOST_MINOR);
  const rate = decimalIn(line.rateMinor, `The rate of ${name}, in minor units,`, 0, MOST_MINOR);
  return { line, amountMinor: quantity.times(rate) };
}

function checkSource(source: CostSource, of: string): void {
  if (source.detail.trim() === '') throw new RangeError(`Say where the figures of ${of} come from.`);
}
