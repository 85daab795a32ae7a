import { localDay, localTime } from '../../trade/calendar/calendar.js';
import { formatDay } from '../../trade/text/format.js';

type Local = { locale: string; timeZone: string };
type Times = { startsAt: Date | string; endsAt: Date | string };

/** An instant as the studio's calendar and clock show it: "Tuesday 14 April 2026, 19:00". */
export function momentInWords(at: Date | string, { locale, timeZone }: Local): string {
  const date = new Date(at);
  return `${formatDay(localDay(date, timeZone), locale, { weekday: true })}, ${localTime(date, timeZone)}`;
}

/** A session's time, with the day of its end only where it runs past midnight. */
export function sessionInWords({ startsAt, endsAt }: Times, local: Local): string {
  const [start, end] = [new Date(startsAt), new Date(endsAt)];
  const sameDay = localDay(start, local.timeZone) === localDay(end, local.timeZone);
  return `${momentInWords(start, local)} to ${sameDay ? localTime(end, local.timeZone) : momentInWords(end, local)}`;
}

/** A course's days, from first to last. */
export function datesInWords(sessions: readonly Times[], { locale, timeZone }: Local): string {
  const days = sessions.map(({ startsAt }) => formatDay(localDay(new Date(startsAt), timeZone), locale));
  const [first, last] = [days[0], days.at(-1)];
  return first === last ? `${first}` : `${first} to ${last}`;
}
