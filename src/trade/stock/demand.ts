import { parseDay } from '../calendar/parse-day.js';
import { decimalIn, wholeIn } from '../maths/number.js';
import { Decimal } from '../money/money.js';
import { betaBinomial } from '../pricing/enrolment.js';

/** What a course will draw of one material. */
export type Demand = {
  /** places taken now */
  booked: number;
  /** the chances that 0, 1, 2, ... more will book; `[1]` where nobody can */
  more: readonly number[];
  /** for what it draws: to work it, and in each mix that it is a part of */
  draws: readonly PlannedDraw[];
};

export type PlannedDraw = {
  /** decimal string, base units (g, ml, pieces) a student draws in all */
  perStudent: string;
  /** whole base units that the course drew already; they are taken off its first draws */
  drawn: number;
  /** when it draws (YYYY-MM-DD; what is overdue stands under today), in shares by whole weights, such as minutes */
  sessions: readonly { day: string; weight: number }[];
};

/** A demand ready to be asked for its units by any day. */
export type DrawPlan = {
  chances: readonly number[];
  first: string;
  last: string;
  /** in their order, each once */
  days: readonly string[];
  /** whole units still to be drawn by the end of a day, if nobody more books, if one does, and so on */
  unitsBy(day: string): readonly number[];
};

const THOUSANDTHS = 1000;
const MOST_PER_STUDENT = 1_000_000;

/**
 * The chances that 0, 1, 2, ... more will book in the end, given how many have: the beta-binomial of enrolment.ts, cut at
 * what is booked. Floats, which add up to 1 within 1e-12.
 */
export function distributionOfFurtherBookings(places: number, booked: number, alpha: string, beta: string): number[] {
  const possible = betaBinomial(places, alpha, beta).slice(
    wholeIn(booked, 'Booked places', 0, Number.MAX_SAFE_INTEGER),
  );
  const total = possible.reduce((sum, p) => sum.plus(p), new Decimal(0));
  return total.isZero() ? [1] : possible.map((p) => p.div(total).toNumber());
}

/**
 * Reads a demand. A student's share is counted in thousandths of a unit, rounded up, and each draw of a course is of whole units,
 * rounded up once for all its students.
 *
 * @throws RangeError on a day that is no date, a negative quantity, or chances that don't add up to 1
 */
export function drawPlanOf({ booked, more, draws }: Demand): DrawPlan {
  wholeIn(booked, 'Booked places', 0, 1000);
  if (Math.abs(more.reduce((sum, chance) => sum + chance, 0) - 1) > 1e-9)
    throw new RangeError('The chances that more will book must add up to 1.');
  const read = draws.map(readDraw);
  const days = read.length === 1 ? (read[0]?.days ?? []) : [...new Set(read.flatMap((draw) => draw.days))].sort();
  const known: (readonly number[])[] = [];
  return {
    chances: more,
    first: days[0] ?? '',
    last: days.at(-1) ?? '',
    days,
    unitsBy: (day) => {
      const at = days.findLastIndex((drawnOn) => drawnOn <= day);
      const of = (extra: number) => read.reduce((sum, { unitsBy }) => sum + unitsBy(days[at] ?? '', booked + extra), 0);
      const units = known[at + 1] ?? more.map((_, extra) => of(extra));
      known[at + 1] = units;
      return units;
    },
  };
}

function readDraw({ perStudent, drawn, sessions }: PlannedDraw) {
  const each = decimalIn(perStudent, 'What a student uses', 0, MOST_PER_STUDENT).times(THOUSANDTHS).ceil().toNumber();
  wholeIn(drawn, 'What was used already', 0, Number.MAX_SAFE_INTEGER);
  const { days, shares } = sharesOf(sessions);
  const whole = shares.at(-1) ?? 0;
  return {
    days,
    unitsBy: (day: string, students: number) => {
      const share = shares[days.findLastIndex((drawnOn) => drawnOn <= day)] ?? 0;
      return Math.max(0, Math.ceil((students * each * share) / (whole * THOUSANDTHS)) - drawn);
    },
  };
}

type Shares = { days: readonly string[]; shares: readonly number[] };
const sharesKnown = new WeakMap<PlannedDraw['sessions'], Shares>();

/** The days of some sessions, each with the weight of all by then. Worked out once for all materials that are drawn at the same sessions. */
function sharesOf(sessions: PlannedDraw['sessions']): Shares {
  const known = sharesKnown.get(sessions);
  if (known) return known;
  if (sessions.length === 0) throw new RangeError('A demand needs a day on which it is drawn.');
  const shares = new Map<string, number>();
  let whole = 0;
  for (const { day, weight } of [...sessions].sort((a, b) => (a.day < b.day ? -1 : 1))) {
    whole += wholeIn(weight, 'The weight of a session', 1, 100_000);
    shares.set(parseDay(day), whole);
  }
  const found = { days: [...shares.keys()], shares: [...shares.values()] };
  sharesKnown.set(sessions, found);
  return found;
}
