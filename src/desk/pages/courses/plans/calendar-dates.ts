import { instantAt, localDay, localTime } from '../../../../trade/calendar/calendar.js';
import { gapBefore, type ProductionPlan } from '../../../../trade/calendar/production-lead-time.js';
import { seriesDays } from '../../../../trade/calendar/series.js';

// A plan's sessions in the calendar, by the studio's clock.

/** A day and a time as they are typed: "2026-03-03" and "19:00". */
export type When = { day: string; time: string };
export type Times = { startsAt: string; endsAt: string };
/** A plan's waits, and how long each session is. */
export type Paced = { recipe: ProductionPlan; minutes: readonly number[]; timeZone: string };

const DAY = /^\d{4}-\d{2}-\d{2}$/;
const TIME = /^\d{2}:\d{2}$/;
/** A session that no rhythm reaches in so many steps is left for its owner to place. */
const STEPS_MAX = 200;

/** When a session begins and ends; null where day or time can't be read. */
export function timesOf({ day, time }: When, minutes: number, timeZone: string): Times | null {
  if (!DAY.test(day) || !TIME.test(time)) return null;
  try {
    const begins = instantAt(day, time, timeZone);
    return { startsAt: begins.toISOString(), endsAt: new Date(begins.getTime() + minutes * 60_000).toISOString() };
  } catch (error) {
    if (error instanceof RangeError) return null; // no such day
    throw error;
  }
}

/** The earliest at which the ware of the sessions before lets a session begin; null where it waits for none. */
export function earliest({ recipe }: Paced, times: readonly (Times | null)[], at: number): string | null {
  const gap = gapBefore(recipe, at);
  const before = gap && times[gap.after];
  return before ? new Date(Date.parse(before.endsAt) + gap.minutes * 60_000).toISOString() : null;
}

/** How the days of a course come back. */
export type Rhythm = { weekdays: readonly number[]; everyWeeks: number; until?: string | undefined };

/** How long a session is: as the plan says, or of courses with one session each as that one. */
export const minutesAt = ({ minutes }: Pick<Paced, 'minutes'>, at: number): number => minutes[at] ?? minutes[0] ?? 0;

/**
 * A day for each of so many sessions, in their rhythm from a first day on and at the same time of the day. A day that is left out is
 * followed by the next; a session whose ware would not be ready comes as much later as it must. One for which no day is found is left
 * for its owner to place, unless the rhythm has an end.
 */
export function proposed(
  paced: Paced,
  first: When,
  { weekdays, everyWeeks, until }: Rhythm,
  count: number = paced.minutes.length,
  isOut: (day: string) => boolean = () => false,
): When[] {
  const days = DAY.test(first.day)
    ? seriesDays({ from: first.day, weekdays, everyWeeks, until }, count + STEPS_MAX, isOut)
    : [];
  const planned: When[] = [];
  const times: (Times | null)[] = [];
  for (let i = 0; i < count; i++) {
    const ready = earliest(paced, times, i);
    let when = { ...first, day: days.shift() ?? '' };
    while (when.day !== '' && ready !== null && isBefore(when, ready, paced.timeZone))
      when = { ...first, day: days.shift() ?? '' };
    if (when.day === '' && until !== undefined) break;
    planned.push(when);
    times.push(timesOf(when, minutesAt(paced, i), paced.timeZone));
  }
  return planned;
}

/** The days of a rhythm between the first and the last of its dates that `isOut` leaves out. */
export function leftOut(
  dates: readonly When[],
  rhythm: Rhythm,
  from: string,
  isOut: (day: string) => boolean,
): string[] {
  const until = dates
    .map(({ day }) => day)
    .sort()
    .at(-1);
  if (!DAY.test(from) || !until) return [];
  const has = new Set(dates.map(({ day }) => day));
  return seriesDays({ ...rhythm, from, until }, STEPS_MAX).filter((day) => isOut(day) && !has.has(day));
}

/** Whether the clock that is put forward that night has no such time. */
export function isSkipped({ day, time }: When, timeZone: string): boolean {
  const times = timesOf({ day, time }, 0, timeZone);
  return times !== null && localTime(new Date(times.startsAt), timeZone) !== time;
}

const isBefore = (when: When, instant: string, timeZone: string): boolean => {
  const times = timesOf(when, 0, timeZone);
  return times !== null && times.startsAt < instant;
};

/** "2026-03-14, 18:20" of an instant, as the fields take it; a minute that has begun counts as over. */
export function whenOf(instant: string, timeZone: string): When {
  const at = new Date(Math.ceil(Date.parse(instant) / 60_000) * 60_000);
  return { day: localDay(at, timeZone), time: localTime(at, timeZone) };
}
