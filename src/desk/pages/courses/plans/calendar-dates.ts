import { addDays, instantAt, localDay, localTime } from '../../../../trade/calendar/calendar.js';
import { gapBefore, type ProductionPlan } from '../../../../trade/calendar/production-lead-time.js';

// A plan's sessions in the calendar, by the studio's clock.

/** A day and a time as they are typed: "2026-03-03" and "19:00". */
export type When = { day: string; time: string };
export type Times = { startsAt: string; endsAt: string };
/** A plan's waits, and how long each session is. */
export type Paced = { recipe: ProductionPlan; minutes: readonly number[]; timeZone: string };

const DAY = /^\d{4}-\d{2}-\d{2}$/;
const TIME = /^\d{2}:\d{2}$/;
/** A session that no rhythm reaches in so many steps is left for its owner to place. */
const STEPS_MAX = 100;

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

/**
 * A day for each session, so many days apart, at the same time of the day; one whose ware would not be ready comes as many rhythms later
 * as it must.
 */
export function proposed(paced: Paced, first: When, everyDays: number): When[] {
  const { minutes, timeZone } = paced;
  const planned: When[] = [];
  const times: (Times | null)[] = [];
  for (const [i, length] of minutes.entries()) {
    const before = planned[i - 1];
    let when = before && DAY.test(first.day) ? { ...first, day: addDays(before.day, everyDays) } : first;
    const ready = earliest(paced, times, i);
    for (let step = 0; step < STEPS_MAX && ready !== null && isBefore(when, ready, timeZone); step++)
      when = { ...when, day: addDays(when.day, everyDays) };
    planned.push(when);
    times.push(timesOf(when, length, timeZone));
  }
  return planned;
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
