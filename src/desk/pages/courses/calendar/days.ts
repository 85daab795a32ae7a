import type { Schemas } from '../../../api/client';
import { capital, count, type Formatter, listed } from '../../../format/formatter';
import { placesLeft } from '../labels';

export type CalendarDays = Schemas['CalendarDays'];
export type Session = CalendarDays['sessions'][number];
export type Firing = CalendarDays['firings'][number];
/** What a kiln does on a day, in words. */
export type KilnDay = { id: string; number: number; what: string; isHot: boolean };
/** A day of the studio with what is planned on it. */
export type Day = { day: string; sessions: Session[]; kilns: KilnDay[]; closed: string[] };

const noon = (day: string) => new Date(`${day}T12:00:00Z`);

function daysLater(day: string, days: number): string {
  const at = noon(day);
  at.setUTCDate(at.getUTCDate() + days);
  return at.toISOString().slice(0, 10);
}

/** Monday is 0, as weeks begin (ISO 8601). */
export const weekdayOf = (day: string): number => (noon(day).getUTCDay() + 6) % 7;

/** What comes after "month=" in the address, where that is a month; else the month of today. */
export const monthIn = (said: string | undefined, today: string): string =>
  said !== undefined && /^20\d{2}-(0[1-9]|1[0-2])$/.test(said) ? said : today.slice(0, 7);

/** So many months later: "2026-12" and 1 is "2027-01". Null beyond the years that the studio can plan. */
export function monthsLater(month: string, months: number): string | null {
  const at = new Date(`${month}-15T12:00:00Z`);
  at.setUTCMonth(at.getUTCMonth() + months);
  const found = at.toISOString().slice(0, 7);
  return found < '2000-01' || found > '2099-12' ? null : found;
}

export function boundsOf(month: string): { from: string; to: string } {
  const from = `${month}-01`;
  const inNext = daysLater(from, 31);
  return { from, to: daysLater(inNext, -Number(inNext.slice(8))) };
}

/** Each day from the first to the last, with what is on it. */
export function daysOf(found: CalendarDays, formatter: Formatter): Day[] {
  const days: Day[] = [];
  for (let day = found.from; day <= found.to; day = daysLater(day, 1)) {
    days.push({
      day,
      sessions: found.sessions.filter(({ startsAt }) => formatter.dayOf(startsAt) === day),
      closed: found.closures.filter(({ from, to }) => from <= day && day <= to).map(({ name }) => name),
      kilns: found.firings.flatMap((firing) => kilnOn(firing, day, formatter)),
    });
  }
  return days;
}

/** "3 of 8 left", or of a session that is over "5 of 8 booked". */
export const placesOf = (session: Session, isOver: boolean): string =>
  isOver ? `${session.placesTaken} of ${session.places} booked` : placesLeft({ ...session, state: 'coming' });

/** "Big kiln: bisque firing from 9:00", "Big kiln: cools", "Big kiln: cold by 14:00"; nothing on a day on which it is free. */
function kilnOn(firing: Firing, day: string, { dayOf, time }: Formatter): KilnDay[] {
  const { id, number, kilnName, kind, from, to } = firing;
  const [first, cools, last] = [dayOf(from), dayOf(firing.coolsFrom), dayOf(to)];
  if (day < first || day > last) return [];
  const said: string[] = [];
  if (day === first) said.push(`${kind} firing from ${time(from)}`);
  else if (day <= cools && day !== last) said.push(`${kind} firing`);
  else if (day < last) said.push('cools');
  if (day === last) said.push(endOf(firing, time(to)));
  return [{ id, number, what: `${kilnName}: ${said.join(', ')}`, isHot: day <= cools }];
}

function endOf({ state, isLate }: Firing, at: string): string {
  if (isLate) return 'not unloaded yet';
  return state === 'planned' || state === 'firing' ? `cold by ${at}` : `unloaded at ${at}`;
}

/** "Nine sessions of four courses, and two firings." */
export function answerOf({ sessions, firings }: CalendarDays, month: string): string {
  const planned = sessions.filter(({ cancelledBecause }) => cancelledBecause === null);
  const courses = new Set(planned.map(({ courseId }) => courseId)).size;
  const said = [
    planned.length > 0 ? `${count(planned.length, 'session')} of ${count(courses, 'course')}` : 'no sessions',
    ...(firings.length > 0 ? [count(firings.length, 'firing')] : []),
  ];
  if (sessions.length === 0 && firings.length === 0) return `Nothing is planned in ${month}.`;
  return `${capital(listed(said))} in ${month}.`;
}
