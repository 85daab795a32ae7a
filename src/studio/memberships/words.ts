import type { NoticeTerms } from '../../trade/money/membership-fee.js';
import { quantityInWords } from '../../trade/money/sale-units.js';
import { formatDay, formatPercent } from '../../trade/text/format.js';
import { numberFormat } from '../../trade/text/formatters.js';

type Included = {
  benchMinutes: number;
  firingLitres: string;
  clay: { name: string; grams: number } | null;
  shelf: string | null;
};

/** What each month includes, a line each: for letters. */
export function includedInWords({ benchMinutes, firingLitres, clay, shelf }: Included, locale: string): string[] {
  return [
    benchMinutes > 0 && `${hoursInWords(benchMinutes, locale)} at a bench of open studio`,
    Number(firingLitres) > 0 && `${numberFormat(locale).format(Number(firingLitres))} litres of room in the kiln`,
    clay && `${quantityInWords(clay.grams, 'g', locale)} of ${clay.name}`,
    shelf && `the shelf "${shelf}"`,
  ].filter((line) => typeof line === 'string');
}

/** 150 minutes as "2.5 hours". */
export function hoursInWords(minutes: number, locale: string): string {
  const hours = numberFormat(locale, { maximumFractionDigits: 2 }).format(minutes / 60);
  return `${hours} ${minutes === 60 ? 'hour' : 'hours'}`;
}

export const noticeInWords = ({ noticeMonths, noticeDays }: NoticeTerms): string => {
  const [number, one] = noticeMonths === null ? [noticeDays ?? 0, 'day'] : [noticeMonths, 'month'];
  if (number === 0) return 'It can end on any day.';
  return `To end it, give us ${number} ${one}${number === 1 ? '’s' : 's’'} notice.`;
};

export const pauseInWords = (percent: string, locale: string): string =>
  Number(percent) === 0 ? 'nothing' : `${formatPercent(percent, locale)} of the fee`;

/** '2026-02-01' as "February 2026". */
export const monthInWords = (month: string, locale: string): string =>
  formatDay(month, locale).replace(/^1 |(?<=[a-z]) 1,/, '');

export type CountedDays = { monthDays: number; fullDays: number; pausedDays: number; pausePercent: string };

/** How a month's sum was worked out; null where it is the whole fee. */
export function daysInWords(
  { monthDays, fullDays, pausedDays, pausePercent }: CountedDays,
  fee: string,
  locale: string,
) {
  if (fullDays === monthDays) return null;
  const days = `${fullDays} of ${monthDays} days at ${fee} a month`;
  if (pausedDays === 0) return days;
  return `${days}, and ${pausedDays} paused at ${pauseInWords(pausePercent, locale)}`;
}
