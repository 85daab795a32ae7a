import { formatMoney } from '../trade/money.js';

export type Manner = { currency: string; locale: string; timeZone: string };
export type Tell = ReturnType<typeof tellIn>;

const NUMBERS = 'no one two three four five six seven eight nine ten eleven twelve'.split(' ');
const DAY_MILLISECONDS = 86_400_000;
const NEAR_DAYS = 6; // a weekday alone names one day only within a week

/** How a page tells money, times and days. Days stand inside English sentences, so that only English names of them fit. */
export function tellIn({ currency, locale, timeZone }: Manner) {
  const tongue = locale.startsWith('en') ? locale : 'en-GB';
  const times = new Intl.DateTimeFormat(tongue, { timeZone, hour: 'numeric', minute: '2-digit' });
  const zoned = new Intl.DateTimeFormat('en-CA', { timeZone, year: 'numeric', month: '2-digit', day: '2-digit' });
  const weekdays = new Intl.DateTimeFormat(tongue, { timeZone: 'UTC', weekday: 'long' });
  const dates = new Intl.DateTimeFormat(tongue, { timeZone: 'UTC', day: 'numeric', month: 'long' });
  const noon = (day: string) => new Date(`${day}T12:00:00Z`);
  const dayOf = (instant: string) => zoned.format(new Date(instant));
  const day = (date: string, today: string): string => {
    const away = Math.round((noon(date).getTime() - noon(today).getTime()) / DAY_MILLISECONDS);
    if (away === 0) return 'today';
    if (away === 1) return 'tomorrow';
    if (away === -1) return 'yesterday';
    return Math.abs(away) <= NEAR_DAYS && away > 0 ? weekdays.format(noon(date)) : dates.format(noon(date));
  };
  return {
    money: (minor: number) => formatMoney(minor, currency, locale),
    time: (instant: string) => times.format(new Date(instant)),
    /** "today", "Friday" or "12 March": the shortest that names one day only. */
    day,
    date: (date: string) => dates.format(noon(date)),
    longDay: (date: string) => `${weekdays.format(noon(date))}, ${dates.format(noon(date))}`,
    /** The studio's day in which an instant lies. */
    dayOf,
    currency,
    locale,
  };
}

/** "two people", "14 people"; from thirteen on figures read faster. */
export const count = (number: number, one: string, more = `${one}s`): string =>
  `${NUMBERS[number] ?? number} ${number === 1 ? one : more}`;

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** "a", "a and b", "a, b and c". */
export const listed = (parts: readonly string[]): string =>
  parts.length < 2 ? (parts[0] ?? '') : `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`;
