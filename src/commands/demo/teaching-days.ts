import { addDays } from '../../trade/calendar/calendar.js';
import type { Shift } from './seeds.js';
import type { Tables } from './tables.js';

type Session = Pick<Tables['sessions'][number], 'day' | 'from' | 'to'>;

/** Christmas and the turn of the year: the seeds move by whole weeks, so any of their evenings may come to fall on these days. */
const CLOSED = new Set(['12-24', '12-25', '12-26', '12-31', '01-01']);

const isClosed = (day: string) => CLOSED.has(day.slice('YYYY-'.length));

/**
 * The day of the demo on which each session is taught, in the order given. One that would fall on a closed day is taught on the last
 * day before it on which nothing else is taught at that hour: earlier, because what its people do afterwards stays where it is.
 *
 * @param sessions all of them, since they share rooms and tutors
 */
export function teachingDays(sessions: readonly Session[], shift: Shift): string[] {
  const days = sessions.map(({ day }) => shift.day(day));
  const taken = (day: string, { from, to }: Session) =>
    sessions.some((other, i) => days[i] === day && other.from < to && from < other.to);
  for (const [i, session] of sessions.entries()) {
    let day = days[i] as string;
    while (isClosed(day) || (day !== days[i] && taken(day, session))) day = addDays(day, -1);
    days[i] = day;
  }
  return days;
}
