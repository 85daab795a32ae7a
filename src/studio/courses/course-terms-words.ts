import { moneyInText } from '../../documents/words.js';
import { formatDay } from '../../trade/text/format.js';
import type { Studio } from '../settings/contract.js';
import type { CourseTerms } from './course-terms-contract.js';
import { agesInWords } from './selling.js';

/** What became of the terms of a course, a sentence for each change, as its history keeps them. */
export function termsChanged(before: CourseTerms, after: CourseTerms, studio: Studio): string[] {
  const money = moneyInText(studio);
  const day = (date: string) => formatDay(date, studio.locale);
  const moved = <K extends keyof CourseTerms>(key: K) => JSON.stringify(before[key]) !== JSON.stringify(after[key]);
  const lines: (string | false)[] = [
    moved('priceMinor') &&
      `Price: ${money(after.priceMinor)}, before ${money(before.priceMinor)}. What is booked keeps its price.`,
    moved('laterPrice') &&
      (after.laterPrice
        ? `From ${day(after.laterPrice.from)} the price is ${money(after.laterPrice.priceMinor)}. What is booked before keeps its price.`
        : 'No later price is planned any more.'),
    moved('perHeadAboveMinor') && `Each person above the group: ${money(after.perHeadAboveMinor ?? 0)}.`,
    moved('concessions') && `Concessions: ${concessionsInWords(after, money)}.`,
    moved('depositMinor') && `Deposit: ${money(after.depositMinor)}, before ${money(before.depositMinor)}.`,
    moved('holdHours') && `A place is held for ${after.holdHours} hours, before ${before.holdHours}.`,
    (moved('balanceDueDays') || moved('balancePayments') || moved('balanceEveryDays')) && balanceInWords(after),
    moved('bookableFrom') &&
      (after.bookableFrom ? `Booking opens on ${day(after.bookableFrom)}.` : 'Booking is open from now on.'),
    moved('bookableUntil') &&
      (after.bookableUntil ? `Booking closes after ${day(after.bookableUntil)}.` : 'Booking is open until it begins.'),
    (moved('ageFrom') || moved('ageTo')) && agesChanged(after),
  ];
  return lines.filter((line) => line !== false);
}

function concessionsInWords({ concessions }: CourseTerms, money: (minor: number) => string): string {
  if (concessions.length === 0) return 'none';
  return concessions
    .map(
      ({ label, priceMinor, atMost }) =>
        `${label} ${money(priceMinor)}${atMost === null ? '' : ` (${atMost} at most)`}`,
    )
    .join(', ');
}

function balanceInWords({ balanceDueDays, balancePayments, balanceEveryDays }: CourseTerms): string {
  const due = `${balanceDueDays} ${balanceDueDays === 1 ? 'day' : 'days'} before it begins`;
  return balancePayments === 1
    ? `Balance: due ${due}.`
    : `Balance: in ${balancePayments} payments, ${balanceEveryDays} days apart, the last due ${due}.`;
}

function agesChanged(after: CourseTerms): string {
  const ages = agesInWords(after);
  return ages ? `For people aged ${ages}.` : 'For people of every age.';
}
