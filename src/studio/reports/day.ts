import { addDays, instantAt, localDay } from '../../trade/calendar/calendar.js';

/** A day of the studio, as instants: 23, 24 or 25 hours. */
export type Day = { day: string; startsAt: Date; endsAt: Date };

/** The day by the clock on the studio's wall. */
export function dayOf(now: Date, timeZone: string): Day {
  return dayNamed(localDay(now, timeZone), timeZone);
}

/** @param day YYYY-MM-DD */
export function dayNamed(day: string, timeZone: string): Day {
  return {
    day,
    startsAt: instantAt(day, '00:00', timeZone),
    endsAt: instantAt(addDays(day, 1), '00:00', timeZone),
  };
}
