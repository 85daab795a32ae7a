import { addDays, daysBetween } from './calendar.js';

/** Days that come back every so many weeks on some weekdays. */
export type Series = {
  /** YYYY-MM-DD, before which there is none; the first week is the one in which it lies, from Monday on (ISO 8601) */
  from: string;
  /** 1 (Monday) to 7 */
  weekdays: readonly number[];
  everyWeeks: number;
  /** YYYY-MM-DD, the last day that may be one of them */
  until?: string | undefined;
};

/** A search for a day that never comes ends after so many. */
const DAYS_MAX = 3 * 366;

/** The weekday of a day, 1 (Monday) to 7. 5 January 1970 was a Monday. */
export const weekdayOf = (day: string): number => (((daysBetween('1970-01-05', day) % 7) + 7) % 7) + 1;

/**
 * The days of a series, in order, at most `count` of them. A day of which `isOut` says so is left out, and another follows in its place:
 * "five Tuesdays without half-term" are five. Fewer come back where it ends before, or where none is found in three years.
 */
export function seriesDays(
  { from, weekdays, everyWeeks, until }: Series,
  count: number,
  isOut: (day: string) => boolean = () => false,
): string[] {
  const days: string[] = [];
  const monday = addDays(from, 1 - weekdayOf(from));
  for (let step = 0, day = from; days.length < count && step < DAYS_MAX; step++, day = addDays(day, 1)) {
    if (until !== undefined && day > until) break;
    const week = Math.floor(daysBetween(monday, day) / 7);
    if (week % everyWeeks === 0 && weekdays.includes(weekdayOf(day)) && !isOut(day)) days.push(day);
  }
  return days;
}
