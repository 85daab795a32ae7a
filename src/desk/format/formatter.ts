import { formatMoney, formatMoneyInText } from '../../trade/money/money.js';
import { formatDay } from '../../trade/text/format.js';

/** `today` is the studio's day (YYYY-MM-DD): a day of its year is told without the year. */
export type Manner = { currency: string; locale: string; timeZone: string; today?: string };
export type Formatter = ReturnType<typeof formatterFor>;

const NUMBERS = 'no one two three four five six seven eight nine ten eleven twelve'.split(' ');
const DAY_MILLISECONDS = 86_400_000;
const NEAR_DAYS = 6; // a weekday alone names one day only within a week

/** How a page tells money, times and days. Days are part of English sentences, so that only English names of them fit. */
export function formatterFor({ currency, locale, timeZone, today: now }: Manner) {
  const tongue = locale.startsWith('en') ? locale : 'en-GB';
  const times = new Intl.DateTimeFormat(tongue, { timeZone, hour: 'numeric', minute: '2-digit' });
  const zoned = new Intl.DateTimeFormat('en-CA', { timeZone, year: 'numeric', month: '2-digit', day: '2-digit' });
  const weekdays = new Intl.DateTimeFormat(tongue, { timeZone: 'UTC', weekday: 'long' });
  const noon = (day: string) => new Date(`${day}T12:00:00Z`);
  const dayOf = (instant: string) => zoned.format(new Date(instant));
  const year = (date: string, today: string | undefined) => date.slice(0, 4) !== today?.slice(0, 4);
  const day = (date: string, today: string): string => {
    const away = Math.round((noon(date).getTime() - noon(today).getTime()) / DAY_MILLISECONDS);
    if (away === 0) return 'today';
    if (away === 1) return 'tomorrow';
    if (away === -1) return 'yesterday';
    if (away > 0 && away <= NEAR_DAYS) return weekdays.format(noon(date));
    return formatDay(date, locale, { year: year(date, today) });
  };
  return {
    money: (minor: number) => formatMoney(minor, currency, locale),
    /** For a sentence: a whole sum without its ".00". */
    moneyInText: (minor: number) => formatMoneyInText(minor, currency, locale),
    time: (instant: string) => times.format(new Date(instant)),
    /** "today", "Friday", "12 March" or "12 March 2025": the shortest that names one day only. */
    day,
    /** "12 March", with the year where it is not this one. */
    date: (date: string) => formatDay(date, locale, { year: year(date, now) }),
    /** "Thursday 12 March", with the year where it is not this one. */
    longDay: (date: string) => formatDay(date, locale, { weekday: true, year: year(date, now) }),
    /** "12 March 2026": for what is kept for years. */
    fullDate: (date: string) => formatDay(date, locale),
    /** The studio's day in which an instant lies. */
    dayOf,
    currency,
    locale,
  };
}

const grouping = new Intl.NumberFormat('en-GB');

/** "2,009": in words, which are British. */
export const grouped = (number: number): string => grouping.format(number);

/** "two people", "14 people"; from thirteen on figures read faster. */
export const count = (number: number, one: string, more = `${one}s`): string =>
  `${NUMBERS[number] ?? grouped(number)} ${number === 1 ? one : more}`;

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** "a", "a and b", "a, b and c". */
export const listed = (parts: readonly string[]): string =>
  parts.length < 2 ? (parts[0] ?? '') : `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`;
