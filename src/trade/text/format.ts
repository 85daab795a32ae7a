import { Decimal } from '../maths/number.js';
import { dateFormat, numberFormat } from './formatters.js';

/** Sentences are English, so that only English names of days and months fit; another locale lends them its numbers alone. */
const englishOf = (locale: string) => (/^en\b/i.test(locale) ? locale : 'en-GB');

/** What a day is written with; the year, which is left out only where the sentence can mean one year. */
export type DayParts = { weekday?: boolean; year?: boolean };

/**
 * Writes a day for a person to read: '2026-12-09' as "9 December 2026", or "Wednesday 9 December 2026". It is the same on screens,
 * papers and in letters, whatever the version of ICU: some put a comma behind the weekday of a British day, others don't.
 *
 * @param day YYYY-MM-DD
 */
export function formatDay(day: string, locale: string, { weekday = false, year = true }: DayParts = {}): string {
  const format = dateFormat(englishOf(locale), {
    ...(weekday ? { weekday: 'long' } : {}),
    day: 'numeric',
    month: 'long',
    ...(year ? { year: 'numeric' } : {}),
    timeZone: 'UTC', // a day has no time zone; read in the process's own it would slip by one
  });
  const parts = format.formatToParts(new Date(`${day}T00:00:00Z`));
  // only before the day of the month: "Wednesday, December 9, 2026" is right as it is
  return parts.map(({ value }, i) => (i === 1 && parts[2]?.type === 'day' && weekday ? ' ' : value)).join('');
}

/**
 * Writes a percentage for a person to read: '17.5' as "17.5%", and as the locale spaces it ("17,5 %" in German, never parted at the
 * end of a line). Up to four decimals.
 *
 * @param percent a decimal, of either sign; below zero it is written with a true minus
 */
export function formatPercent(percent: string, locale: string): string {
  const format = numberFormat(locale, { style: 'percent', maximumFractionDigits: 4 });
  return format.format(new Decimal(percent).div(100).toFixed() as `${number}`).replace(/^-/, '−');
}
