import type { Schemas } from '../../api/client';
import { count, type Formatter } from '../../format/formatter';
import { formatQuantity } from '../../format/quantity';
import type { Tone } from '../../ui/data-table';

export type Membership = Schemas['Membership'];
export type MembershipInFull = Schemas['MembershipInFull'];
export type MembershipKind = Schemas['ListedMembershipKind'];
export type Month = MembershipInFull['months'][number];

/** "Current", "Paused until 24 February", "Ends on 5 March" */
export function stateOf({ state, startsOn, endsOn, pausedUntil }: Membership, { date }: Formatter): string {
  if (state === 'coming') return `From ${date(startsOn)}`;
  if (state === 'paused' && pausedUntil !== null) return `Paused until ${date(pausedUntil)}`;
  if (state === 'noticeGiven' && endsOn !== null) return `Ends on ${date(endsOn)}`;
  if (state === 'ended' && endsOn !== null) return `Ended on ${date(endsOn)}`;
  return state === 'withdrawn' ? 'Cancelled' : 'Current';
}

export const toneOf = ({ state }: Pick<Membership, 'state'>): Tone | undefined =>
  (({ noticeGiven: 'amber', paused: 'amber', ended: 'quiet', withdrawn: 'quiet' }) as const)[state as 'paused'];

type Included = Membership['included'];

/** What each month includes, a line each; none where it includes nothing. */
export function includedLines({ benchMinutes, firingLitres, clay, shelf }: Included, formatter: Formatter): string[] {
  return [
    benchMinutes > 0 && `${hoursOf(benchMinutes, formatter)} at a bench of open studio`,
    Number(firingLitres) > 0 && `${litresOf(firingLitres, formatter)} of room in the kiln`,
    clay && `${formatQuantity(clay.grams, 'g', formatter)} of ${clay.name}`,
    shelf && 'a shelf',
  ].filter((line) => typeof line === 'string');
}

/** 150 minutes as "2.5 hours". */
export function hoursOf(minutes: number, { locale }: Pick<Formatter, 'locale'>): string {
  const hours = new Intl.NumberFormat(locale, { maximumFractionDigits: 2 }).format(minutes / 60);
  return `${hours} ${minutes === 60 ? 'hour' : 'hours'}`;
}

export const litresOf = (litres: string | number, { locale }: Pick<Formatter, 'locale'>): string =>
  `${new Intl.NumberFormat(locale, { maximumFractionDigits: 1 }).format(Number(litres))} litres`;

type Notice = { noticeMonths: number | null; noticeDays: number | null };

export const noticeOf = ({ noticeMonths, noticeDays }: Notice): string => {
  const said = noticeMonths === null ? count(noticeDays ?? 0, 'day') : count(noticeMonths, 'month');
  return said.startsWith('no ') ? 'none' : said;
};

export const pauseOf = (percent: string): string =>
  Number(percent) === 0 ? 'nothing is paid' : `${percent}% of the fee`;

/** '2026-02-01' as "February 2026". */
export const monthOf = (month: string, { fullDate }: Formatter): string =>
  fullDate(month).replace(/^1 |(?<=[a-z]) 1,/, '');

/** How a month's sum was worked out, as a person would on paper: "£60.00 × 22 ÷ 31 days". */
export function workingOf(month: Month, { money }: Formatter): string {
  const { feeMinor, monthDays, fullDays, pausedDays, pausePercent } = month;
  if (fullDays === monthDays) return 'the whole month';
  if (fullDays + pausedDays === 0) return 'no day counts';
  const paused = pausedDays === 0 ? '' : `${fullDays > 0 ? ' + ' : ''}${pausedDays} paused × ${pausePercent}%`;
  const days = `${fullDays > 0 || pausedDays === 0 ? fullDays : ''}${paused}`;
  return `${money(feeMinor)} × ${pausedDays > 0 ? `(${days})` : days} ÷ ${monthDays} days`;
}
