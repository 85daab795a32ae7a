import { Temporal } from 'temporal-polyfill';

// Days and hours in the studio's time zone. An instant is UTC; a session at 19:00 stays at 19:00 across a clock change.

/** The local day (YYYY-MM-DD) on which an instant falls. */
export function localDay(at: Date, timeZone: string): string {
  return zoned(at, timeZone).toPlainDate().toString();
}

/** Minutes since local midnight, as the clock on the wall shows them, 0..1439. */
export function minuteOfDay(at: Date, timeZone: string): number {
  const { hour, minute } = zoned(at, timeZone);
  return hour * 60 + minute;
}

/** The local wall-clock time, HH:MM. */
export function localTime(at: Date, timeZone: string): string {
  return zoned(at, timeZone).toPlainTime().toString({ smallestUnit: 'minute' });
}

/** An instant as the clock on the wall shows it, with how far that is from UTC (ISO 8601): 2026-04-14T19:00:00+01:00. */
export function localInstant(at: Date, timeZone: string): string {
  return zoned(at, timeZone).toString({ smallestUnit: 'second', timeZoneName: 'never' });
}

/**
 * The instant of a local day and time (YYYY-MM-DD, HH:MM). A time that a clock change skips is taken after the gap; one that it
 * repeats, the first time round (Temporal's "compatible").
 */
export function instantAt(day: string, time: string, timeZone: string): Date {
  const local = Temporal.PlainDate.from(day).toZonedDateTime({ timeZone, plainTime: Temporal.PlainTime.from(time) });
  return new Date(local.epochMilliseconds);
}

/** The day so many days later (or earlier, where `days` is below zero). */
export function addDays(day: string, days: number): string {
  return Temporal.PlainDate.from(day).add({ days }).toString();
}

/** The same day so many months later; where that month is shorter, its last day: 31 January and a month is 28 or 29 February. */
export function addMonths(day: string, months: number): string {
  return Temporal.PlainDate.from(day).add({ months }).toString();
}

/** The first day of a day's month. */
export function monthOf(day: string): string {
  return `${day.slice(0, 7)}-01`;
}

/** Days from one to the other; below zero where `to` lies before `from`. */
export function daysBetween(from: string, to: string): number {
  return Temporal.PlainDate.from(from).until(Temporal.PlainDate.from(to), { largestUnit: 'day' }).days;
}

export function isTimeZone(name: string): boolean {
  try {
    new Intl.DateTimeFormat('en', { timeZone: name });
    return true;
  } catch {
    return false;
  }
}

function zoned(at: Date, timeZone: string): Temporal.ZonedDateTime {
  return Temporal.Instant.fromEpochMilliseconds(at.getTime()).toZonedDateTimeISO(timeZone);
}
