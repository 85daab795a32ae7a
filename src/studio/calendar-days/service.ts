import type { Transaction } from '../../database/transaction.js';
import { Problem } from '../../problems.js';
import { addDays, daysBetween, localDay } from '../../trade/calendar/calendar.js';
import { placesTaken } from '../courses/queries.js';
import { occupies } from '../firings/firing.js';
import { listClosuresOn } from '../settings/closures.js';
import { momentsOf } from '../settings/days.js';
import { getStudio } from '../settings/service.js';
import { type CalendarDays, type CalendarDaysQuery, type CalendarFiring, DAYS_MAX } from './contract.js';
import { type DayFiring, listDayFirings, listDaySessions } from './queries.js';

const DAYS_USUALLY = 31;
const HOUR_MILLISECONDS = 3_600_000;

/**
 * What is planned on some days of the studio, from the first to the last.
 *
 * @throws Problem set-up-missing
 */
export async function getCalendarDays(tx: Transaction, now: Date, query: CalendarDaysQuery): Promise<CalendarDays> {
  const days = daysOf(query, localDay(now, (await getStudio(tx)).timeZone));
  const { from = now, before = now } = await momentsOf(tx, days);
  const sessions = await listDaySessions(tx, from, before);
  const taken = await placesTaken(tx, [...new Set(sessions.map(({ courseId }) => courseId))]);
  const firings = await listDayFirings(tx, now, from, before);
  return {
    ...days,
    closures: await listClosuresOn(tx, days.from, days.to),
    sessions: sessions.map(({ startsAt, endsAt, ...session }) => ({
      ...session,
      ...{ startsAt: startsAt.toISOString(), endsAt: endsAt.toISOString() },
      placesTaken: taken.get(session.courseId)?.taken ?? 0,
      placesMadeUp: taken.get(session.courseId)?.madeUp ?? 0,
    })),
    firings: firings.map((firing) => shown(firing, now)),
  };
}

function daysOf({ from: first, to }: CalendarDaysQuery, today: string): { from: string; to: string } {
  const from = first ?? today;
  const days = { from, to: to ?? addDays(from, DAYS_USUALLY - 1) };
  const count = daysBetween(days.from, days.to) + 1;
  if (count >= 1 && count <= DAYS_MAX) return days;
  const detail =
    count < 1 ? 'must not be before the first day' : `must be at most ${DAYS_MAX - 1} days after the first`;
  throw new Problem(
    'invalid-request',
    count < 1
      ? 'The last day comes before the first. Give them the other way round.'
      : `These are ${count} days. Ask for ${DAYS_MAX} at most.`,
    { errors: [{ pointer: '#/querystring/to', detail }] },
  );
}

/** Before it begins a firing has its kiln as planned, then as it really went. */
function shown(firing: DayFiring, now: Date): CalendarFiring {
  const { id, number, kilnName, kind, state, coolingHours, endedAt } = firing;
  const { from, to } = occupies(firing, now) ?? { from: firing.plannedFrom, to: firing.plannedTo };
  const cools = endedAt ?? new Date(Math.max(from.getTime(), to.getTime() - coolingHours * HOUR_MILLISECONDS));
  return {
    ...{ id, number, kilnName, kind, state, isLate: state === 'firing' && to <= now },
    ...{ from: from.toISOString(), coolsFrom: cools.toISOString(), to: to.toISOString() },
  };
}
