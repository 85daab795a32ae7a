import { addDays, addMonths, daysBetween, monthOf } from '../calendar/calendar.js';
import { Decimal, roundHalfUp } from './money.js';

/** From one day to another, both in it. */
export type DayRange = { from: string; to: string };

/** What a member's fee is worked out from. Days are local ones, YYYY-MM-DD; a month is its first day. */
export type FeeTerms = {
  /** the first day that is charged */
  chargedFrom: string;
  /** the last day; null where no end is known */
  endsOn: string | null;
  /** none overlaps another */
  pauses: readonly DayRange[];
  /** of the fee, what a paused day is charged at, 0 to 100 */
  pausePercent: string;
  /** from which month which fee, in any order; the latest of those that have begun counts, of two for one month the later named */
  fees: readonly { fromMonth: string; feeMinor: number }[];
};

export type MonthlyFee = {
  month: string;
  feeMinor: number;
  monthDays: number;
  /** days of membership that are not paused */
  fullDays: number;
  pausedDays: number;
  amountMinor: number;
};

/**
 * What a month comes to: its fee for each of its days that counts, a paused one at the pause's rate, rounded once, half a penny up.
 * fee × (full days + paused days × rate ÷ 100) ÷ days of the month
 *
 * @returns null where no day of the month counts
 * @throws RangeError where no fee is known for the month
 */
export function monthlyFee(terms: FeeTerms, month: string): MonthlyFee | null {
  const next = addMonths(month, 1);
  const monthDays = daysBetween(month, next);
  const counted = overlap(
    { from: month, to: addDays(next, -1) },
    { from: terms.chargedFrom, to: terms.endsOn ?? FAR_OFF },
  );
  if (counted === null) return null;
  const pausedDays = terms.pauses.reduce((sum, pause) => sum + daysIn(overlap(counted, pause)), 0);
  const fullDays = daysIn(counted) - pausedDays;
  const feeMinor = feeFrom(terms.fees, month);
  const days = new Decimal(pausedDays).times(terms.pausePercent).div(100).plus(fullDays);
  const amountMinor = roundHalfUp(days.times(feeMinor).div(monthDays));
  return { month, feeMinor, monthDays, fullDays, pausedDays, amountMinor };
}

/** The months that are charged by a day, in their order: each from its first day, the first from the day that charging begins. */
export function monthsToCharge(
  { chargedFrom, endsOn }: Pick<FeeTerms, 'chargedFrom' | 'endsOn'>,
  by: string,
): string[] {
  const [last = by] = [by, endsOn ?? by].sort();
  const months: string[] = [];
  if (chargedFrom > last) return months;
  for (let month = monthOf(chargedFrom); month <= last; month = addMonths(month, 1)) months.push(month);
  return months;
}

/** The fee that holds in a month. @throws RangeError where none is known */
export function feeFrom(fees: FeeTerms['fees'], month: string): number {
  const begun = fees.filter(({ fromMonth }) => fromMonth <= month);
  const latest = begun.reduce((best, fee) => (best && best.fromMonth > fee.fromMonth ? best : fee), begun[0]);
  if (!latest) throw new RangeError(`No fee is known for ${month}.`);
  return latest.feeMinor;
}

export type NoticeTerms = { noticeMonths: number | null; noticeDays: number | null };

/** The last day of a membership on whose end a member gives notice on a day. */
export const lastDayAfterNotice = (givenOn: string, { noticeMonths, noticeDays }: NoticeTerms): string =>
  noticeMonths === null ? addDays(givenOn, noticeDays ?? 0) : addMonths(givenOn, noticeMonths);

/** What two ranges have in common; null where that is nothing. */
export function overlap(a: DayRange, b: DayRange): DayRange | null {
  const [, from = a.from] = [a.from, b.from].sort();
  const [to = a.to] = [a.to, b.to].sort();
  return from <= to ? { from, to } : null;
}

const FAR_OFF = '9999-12-31';

const daysIn = (range: DayRange | null) => (range === null ? 0 : daysBetween(range.from, range.to) + 1);
