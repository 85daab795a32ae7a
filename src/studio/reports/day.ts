import { addDays, instantAt, localDay } from '../../trade/calendar/calendar.js';

/** A day of the studio, as instants: 23, 24 or 25 hours. */
export type ReportDay = { day: string; startsAt: Date; endsAt: Date };

/** The day by the clock on the studio's wall. */
export function dayOf(now: Date, timeZone: string): ReportDay {
  return dayNamed(localDay(now, timeZone), timeZone);
}

/** @param day YYYY-MM-DD */
export function dayNamed(day: string, timeZone: string): ReportDay {
  return {
    day,
    startsAt: instantAt(day, '00:00', timeZone),
    endsAt: instantAt(addDays(day, 1), '00:00', timeZone),
  };
}
