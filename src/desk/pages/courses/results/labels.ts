import { Decimal } from '../../../../trade/money/money.js';
import { capital, count, type Formatter } from '../../../format/formatter';
import type { Line, NextPlan, Was } from './queries';

const NBSP = '\u00a0';
const DECIMALS = 2;

/** Units as one says them of one and of more. */
const UNITS: Record<string, [string, string]> = {
  place: ['place', 'places'],
  payment: ['payment', 'payments'],
  piece: ['piece', 'pieces'],
  fee: ['fee', 'fees'],
  course: ['', ''],
  'kiln load': ['kiln load', 'kiln loads'],
};

/** "5 places", "10.77 kg": enough digits to compare by, fewer than to reckon with. */
export function amount({ quantity }: { quantity: string }, unit: string, { locale }: Formatter): string {
  const number = new Decimal(quantity).toDecimalPlaces(DECIMALS);
  const [one, more] = UNITS[unit] ?? [unit, unit];
  return `${number.toNumber().toLocaleString(locale).replace('-', '−')}${NBSP}${number.eq(1) ? one : more}`.trim();
}

/** What explains the difference most, as the end of a sentence. */
function mostly({ because, differenceMinor }: Was, money: Formatter['moneyInText']): string {
  const first = because.find((one) => Math.sign(one.differenceMinor) === Math.sign(differenceMinor));
  return first ? `; “${first.label}” counts most (${money(Math.abs(first.differenceMinor))})` : '';
}

/** The answer, with its figure apart: what stands before it, and after it. */
export function answerOf(
  was: Was,
  { moneyInText: money }: Formatter,
): { before: string; figure: string; after: string } {
  const { title, students, real, planned, differenceMinor } = was;
  const against = differenceMinor === 0 ? 'as planned' : `${better(differenceMinor, money)} than planned`;
  const pay =
    real.payPerHourMinor === null
      ? 'What you got an hour is not known, as none of your time was noted.'
      : `You got ${money(real.payPerHourMinor)} an hour, where ${money(planned.payPerHourMinor ?? 0)} was planned.`;
  // paid less than one's hour is worth is not a loss
  const isShort = real.resultMinor < 0 && real.payPerHourMinor !== null && real.payPerHourMinor >= 0;
  const verb = isShort ? 'came' : real.resultMinor < 0 ? 'lost' : 'left';
  return {
    before: `“${title}” with ${count(students, 'student')} ${verb} `,
    figure: money(Math.abs(real.resultMinor)),
    after: ` ${isShort ? 'short of paying your time' : 'once your time is paid'}, ${against}${mostly(was, money)}. ${pay}`,
  };
}

/** How sure the two sums are. */
export function certaintyInWords({ unknown, stillOpen }: Was): string {
  const lines = count(unknown.length, 'line');
  const missing =
    unknown.length === 0
      ? 'The actual amount of every line is known.'
      : `${capital(lines)} ${unknown.length === 1 ? 'is' : 'are'} in neither sum: the actual ${unknown.length === 1 ? 'amount is' : 'amounts are'} not known.`;
  return [missing, ...stillOpen].join(' ');
}

export function broken({ breakages }: Was): string {
  const { made, lost, firedAgain, plannedPercent, realPercent, howToKnow } = breakages;
  if (realPercent === null) return howToKnow ?? '';
  const percent = (exact: string) => `${new Decimal(exact).toDecimalPlaces(1).toFixed()}%`;
  const again = firedAgain === 0 ? '' : ` ${capital(count(firedAgain, 'piece'))} went through a firing again.`;
  return `${capital(count(lost, 'piece'))} of ${made} cracked or got lost, ${percent(realPercent)}; ${percent(plannedPercent)} was allowed for.${again}`;
}

/** "better by £2.00", said of a difference: a sign alone is easily overlooked. */
export const better = (minor: number, money: Formatter['money']): string =>
  minor === 0 ? 'as planned' : `${money(Math.abs(minor))} ${minor > 0 ? 'better' : 'worse'}`;

type Proposal = NextPlan['proposals'][number];

/** "1.2 kg", "4.5 h": grams and millilitres of a course read better as kilograms and litres. */
export function figure(exact: string | null, { unit }: Proposal, { locale }: Formatter): string {
  if (exact === null) return '';
  const shown = new Decimal(exact).toDecimalPlaces(unit === 'g' || unit === 'ml' ? 0 : DECIMALS).toNumber();
  return `${shown.toLocaleString(locale)}${NBSP}${unit}`;
}

export const isKnown = (line: Line): boolean => line.real !== null;
