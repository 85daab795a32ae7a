import { wholeIn } from '../maths/number.js';
import { Decimal, roundHalfUp, roundKeepingTotal } from '../money/money.js';
import { MAX_MINOR } from '../money/money-limits.js';
import { costKind } from './cost-lines.js';
import type { CostKind, PriceInputs } from './price-inputs.js';
import type { PrivateInputs, PrivatePrices } from './private-price.js';
import { readTakings } from './takings.js';

/** What comes in, what goes out, and the owner's own time at their wage, which goes out as well but to the owner. */
export type Side = 'takings' | 'cost' | 'own-time';

/** What a line of a course was to come to. Decimal strings; money exact, in minor units, never with a sign of its side. */
export type PlanLine = PlanAmount & PlanKind;
type PlanKind = CostKind | { kind: 'takings' | 'card-fees' | 'second-tutor' | 'own-time' };

interface PlanAmount {
  key: string;
  label: string;
  side: Side;
  unit: string;
  quantity: string;
  amountMinor: string;
}

/** A line with what it really came to, or with how somebody could know that. */
export type ComparedLine = PlanLine &
  (
    | { real: { quantity: string; amountMinor: string; detail: string }; howToKnow: null }
    | { real: null; howToKnow: string }
  );

const MOST_STUDENTS = 1000;

/**
 * What a course was to bring and to cost with so many students, by the terms of its price. All lines together are the result that
 * the price's ladder shows for that number. Without a student it is not held, and what is lost
 * then is all there is; open studio is held all the same.
 *
 * @param students   whole, 0..1000: those who really came
 * @param grossMinor what a place was really sold at, whole minor units
 * @returns the cost lines, and takings, card fees, a second tutor (of nothing where none is needed) and the owner's time
 * @throws RangeError outside the above, or with a sentence that says what to mend in the inputs
 */
export function planAt(inputs: PriceInputs, students: number, grossMinor: number): PlanLine[] {
  wholeIn(students, 'The number of students', 0, MOST_STUDENTS);
  wholeIn(grossMinor, 'The price of a place, in minor units,', 0, MAX_MINOR);
  if (students === 0 && inputs.minimum > 0) return costLines(inputs, 0, 'cancelled');
  const { paidPart, discountMinor, cardPart, cardFixedMinor, keptPart, keptPlusMinor } = readTakings(inputs);
  const cardEach = paidPart.times(grossMinor).minus(discountMinor).times(cardPart);
  const netEach = keptPart.times(grossMinor).plus(keptPlusMinor).plus(cardEach);
  return heldLines(inputs, students, {
    netMinor: netEach.times(students),
    cardMinor: cardEach.plus(cardFixedMinor).times(students),
    payments: new Decimal(inputs.payments).times(students),
  });
}

/**
 * The same of a private session: one price for its group and a sum for each head above it, paid by one person.
 *
 * @param heads whole, 0..1000: those who really came; without one it is not held
 */
export function planPrivateAt(
  inputs: PrivateInputs,
  heads: number,
  { groupMinor, perHeadAboveMinor }: PrivatePrices,
): PlanLine[] {
  wholeIn(heads, 'The number of people', 0, MOST_STUDENTS);
  wholeIn(groupMinor, 'The price for the group, in minor units,', 0, MAX_MINOR);
  wholeIn(perHeadAboveMinor, 'The price for each extra person, in minor units,', 0, MAX_MINOR);
  if (heads === 0) return costLines(inputs, 0, 'cancelled');
  const { keptPart, cardPart, cardFixedMinor } = readTakings({ ...inputs, sold: undefined });
  const charged = new Decimal(perHeadAboveMinor).times(Math.max(0, heads - inputs.groupOf)).plus(groupMinor);
  return heldLines(inputs, heads, {
    netMinor: charged.times(keptPart.plus(cardPart)),
    cardMinor: charged.times(cardPart).plus(cardFixedMinor),
    payments: new Decimal(inputs.payments),
  });
}

function costLines({ lines }: Pick<PriceInputs, 'lines'>, people: number, how: 'runs' | 'cancelled'): PlanLine[] {
  return lines
    .filter(({ basis }) => (how === 'cancelled') === (basis === 'if-cancelled'))
    .map((line): PlanLine => {
      const { key, label, basis, unit, quantity, rateMinor } = line;
      const times = new Decimal(quantity).times(basis === 'per-student' ? people : 1);
      return { ...costKind(line), key, label, side: 'cost', unit, ...sum(times, times.times(rateMinor)) };
    });
}

type Taken = { netMinor: Decimal; cardMinor: Decimal; payments: Decimal };

function heldLines(inputs: PriceInputs | PrivateInputs, people: number, taken: Taken): PlanLine[] {
  const hours = new Decimal(inputs.ownerHoursPerStudent).times(people).plus(inputs.ownerHours);
  const { feeMinor, above } = inputs.secondTutor ?? { feeMinor: 0, above: people };
  const tutors = new Decimal(people > above ? 1 : 0);
  return [
    {
      ...{ kind: 'takings', key: 'takings', label: 'Takings without VAT', side: 'takings', unit: 'place' },
      ...sum(new Decimal(people), taken.netMinor),
    },
    ...costLines(inputs, people, 'runs'),
    {
      ...{ kind: 'card-fees', key: 'card-fees', label: 'Card fees', side: 'cost', unit: 'payment' },
      ...sum(taken.payments, taken.cardMinor),
    },
    {
      ...{ kind: 'second-tutor', key: 'second-tutor', label: 'Second tutor', side: 'cost', unit: 'fee' },
      ...sum(tutors, tutors.times(feeMinor)),
    },
    {
      ...{ kind: 'own-time', key: 'own-time', label: 'Your time', side: 'own-time', unit: 'h' },
      ...sum(hours, hours.times(inputs.wagePerHourMinor)),
    },
  ];
}

const sum = (quantity: Decimal, amount: Decimal) => ({ quantity: quantity.toFixed(), amountMinor: amount.toFixed() });

/** Two sides of the same lines. Whole minor units; a result is takings less costs and the owner's time at their wage. */
interface Total {
  resultMinor: number;
  hours: string;
  /** what the owner got per hour if all that is left is theirs, rounded; null without an hour */
  payPerHourMinor: number | null;
}

export interface Variance {
  lines: {
    key: string;
    label: string;
    side: Side;
    unit: string;
    planned: { quantity: string; amountMinor: number };
    real: { quantity: string; amountMinor: number; detail: string } | null;
    /** what of the difference this line makes: above zero it turned out better than planned; null where it isn't known */
    differenceMinor: number | null;
    howToKnow: string | null;
  }[];
  /** what the whole plan was to leave, lines included of which nothing real is known */
  wholePlanMinor: number;
  /** over the lines of which both sides are known */
  planned: Total;
  real: Total;
  differenceMinor: number;
  /** what explains the difference, the greatest effect first; they add up to it */
  because: { key: string; label: string; differenceMinor: number }[];
  /** the lines that neither total holds */
  unknown: string[];
}

/**
 * Sets what a course was to come to against what it came to. A line of which nothing real is known counts neither as nothing nor as
 * planned: it is left out of both totals and named. Each side is rounded to whole minor units line by line so that its lines add up
 * to its rounded sum, and everything else is whole minor units added and taken away: it adds up exactly.
 */
export function comparePlannedWithActual(compared: readonly ComparedLine[]): Variance {
  const plannedMinor = rounded(compared.map((line) => ({ side: line.side, amountMinor: line.amountMinor })));
  const known = compared.flatMap((line) => (line.real ? [{ ...line.real, side: line.side, key: line.key }] : []));
  const realMinor = new Map(rounded(known).map((amountMinor, i) => [known[i]?.key ?? '', amountMinor]));
  const lines = compared.map(({ key, label, side, unit, quantity, real, howToKnow }, i) => {
    const planned = { quantity, amountMinor: plannedMinor[i] ?? 0 };
    if (!real) return { key, label, side, unit, planned, real, differenceMinor: null, howToKnow };
    const amountMinor = realMinor.get(key) ?? 0;
    const moreMinor = amountMinor - planned.amountMinor;
    const differenceMinor = side === 'takings' ? moreMinor : 0 - moreMinor;
    return { key, label, side, unit, planned, real: { ...real, amountMinor }, differenceMinor, howToKnow };
  });
  const both = lines.flatMap(({ real, differenceMinor, ...line }) =>
    real === null || differenceMinor === null ? [] : [{ ...line, real, differenceMinor }],
  );
  const all = lines.map(({ side, planned }) => ({ side, ...planned }));
  return {
    lines,
    wholePlanMinor: resultOf(all),
    planned: totalOf(both.map(({ side, planned }) => ({ side, ...planned }))),
    real: totalOf(both.map(({ side, real }) => ({ side, ...real }))),
    differenceMinor: both.reduce((total, line) => total + line.differenceMinor, 0),
    because: both
      .filter(({ differenceMinor }) => differenceMinor !== 0)
      .map(({ key, label, differenceMinor }) => ({ key, label, differenceMinor }))
      .sort((a, b) => Math.abs(b.differenceMinor) - Math.abs(a.differenceMinor)),
    unknown: lines.flatMap(({ key, real }) => (real ? [] : key)),
  };
}

/** Whole minor units that add up to the rounded result: rounding each by itself would leave a table that misses its total. */
function rounded(lines: readonly { side: Side; amountMinor: string }[]): number[] {
  const exact = lines.map(({ side, amountMinor }) => new Decimal(amountMinor).times(side === 'takings' ? 1 : -1));
  return roundKeepingTotal(exact).partsMinor.map((partMinor, i) =>
    lines[i]?.side === 'takings' ? partMinor : 0 - partMinor,
  );
}

type Amount = { side: Side; quantity: string; amountMinor: number };

const resultOf = (amounts: readonly { side: Side; amountMinor: number }[]): number =>
  amounts.reduce((total, { side, amountMinor }) => total + (side === 'takings' ? amountMinor : 0 - amountMinor), 0);

function totalOf(amounts: readonly Amount[]): Total {
  const own = amounts.filter(({ side }) => side === 'own-time');
  const hours = own.reduce((total, { quantity }) => total.plus(quantity), new Decimal(0));
  const leftMinor = resultOf(amounts.filter(({ side }) => side !== 'own-time'));
  return {
    resultMinor: resultOf(amounts),
    hours: hours.toFixed(),
    payPerHourMinor: hours.isZero() ? null : roundHalfUp(new Decimal(leftMinor).div(hours)),
  };
}
