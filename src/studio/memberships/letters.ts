import type { z } from 'zod';
import type { Transaction } from '../../database/transaction.js';
import { fromDate, fromDecimal } from '../../database/values.js';
import { moneyInText } from '../../documents/words.js';
import type {
  MembershipChargedData,
  MembershipEndsData,
  MembershipFeeData,
  MembershipGoesOnData,
  MembershipPausedData,
  MembershipStartedData,
} from '../../mail/templates/membership.js';
import { addMonths, localDay } from '../../trade/calendar/calendar.js';
import {
  feeFrom,
  lastDayAfterNotice,
  type MonthlyFee,
  monthlyFee,
  monthsToCharge,
} from '../../trade/money/membership-fee.js';
import { formatDay } from '../../trade/text/format.js';
import { notify } from '../notices/service.js';
import { getStudio } from '../settings/service.js';
import { feeOn, type MembershipRow, termsOf } from './rows.js';
import { daysInWords, includedInWords, monthInWords, noticeInWords, pauseInWords } from './words.js';

/** Tells a new member what was agreed: from when, for how much, what it includes and how it ends. */
export async function writeStarted(tx: Transaction, now: Date, row: MembershipRow): Promise<void> {
  const studio = await getStudio(tx);
  const { locale } = studio;
  const money = moneyInText(studio);
  const terms = termsOf(row);
  const chargedFrom = fromDate(row.chargedFrom);
  const [first = chargedFrom] = monthsToCharge(terms, chargedFrom);
  const fee = monthlyFee(terms, first);
  const isPart = fee !== null && fee.fullDays < fee.monthDays;
  const data: z.output<typeof MembershipStartedData> = {
    ...{ kind: row.kind.name, startsOn: formatDay(fromDate(row.startsOn), locale) },
    fee: money(feeFrom(terms.fees, first)),
    first:
      fee && isPart
        ? { month: monthInWords(first, locale), amount: money(fee.amountMinor), how: howOf(row, fee, studio) }
        : null,
    included: includedInWords(includedOf(row), locale),
    notice: noticeInWords(row),
    pause: pauseInWords(fromDecimal(row.pausePercent), locale),
    howToPay: studio.howToPayCourses,
  };
  await notify(tx, now, { personId: row.personId, occasion: 'membershipStarted', data });
}

/** Tells a member what was charged, a line for each month. */
export async function writeCharged(tx: Transaction, now: Date, row: MembershipRow, fees: readonly MonthlyFee[]) {
  const studio = await getStudio(tx);
  const data: z.output<typeof MembershipChargedData> = {
    kind: row.kind.name,
    months: fees
      .filter(({ amountMinor }) => amountMinor > 0)
      .map((fee) => ({
        month: monthInWords(fee.month, studio.locale),
        amount: moneyInText(studio)(fee.amountMinor),
        how: howOf(row, fee, studio),
      })),
    howToPay: studio.howToPayCourses,
  };
  await notify(tx, now, { personId: row.personId, occasion: 'membershipCharged', data });
}

/** Tells a member of a new fee, from when it holds, and until when notice can be given without paying it. */
export async function writeNewFee(
  tx: Transaction,
  now: Date,
  row: MembershipRow,
  from: { month: string; feeMinor: number },
) {
  const studio = await getStudio(tx);
  const { locale, timeZone } = studio;
  const before = feeFrom(termsOf(row).fees, addMonths(from.month, -1));
  const data: z.output<typeof MembershipFeeData> = {
    ...{ kind: row.kind.name, from: formatDay(from.month, locale) },
    ...{ before: moneyInText(studio)(before), fee: moneyInText(studio)(from.feeMinor) },
    notice: noticeInWords(row),
    lastDayIfNow: formatDay(lastDayAfterNotice(localDay(now, timeZone), row), locale),
  };
  await notify(tx, now, { personId: row.personId, occasion: 'membershipFee', data });
}

type Credited = { creditedMinor: number };

/** Tells a member that their membership is paused, and what is asked for it meanwhile. */
export async function writePaused(
  tx: Transaction,
  now: Date,
  row: MembershipRow,
  { from, to, creditedMinor }: { from: string; to: string } & Credited,
): Promise<void> {
  const studio = await getStudio(tx);
  const { locale } = studio;
  const data: z.output<typeof MembershipPausedData> = {
    ...{ kind: row.kind.name, from: formatDay(from, locale), to: formatDay(to, locale) },
    rate: pauseInWords(fromDecimal(row.pausePercent), locale),
    credited: creditedMinor > 0 ? moneyInText(studio)(creditedMinor) : null,
  };
  await notify(tx, now, { personId: row.personId, occasion: 'membershipPaused', data });
}

/** Tells a member the last day of their membership. */
export async function writeEnds(
  tx: Transaction,
  now: Date,
  row: MembershipRow,
  how: Credited & { reason: string | null },
) {
  const studio = await getStudio(tx);
  const data: z.output<typeof MembershipEndsData> = {
    ...{ kind: row.kind.name, lastDay: formatDay(fromDate(row.endsOn ?? now), studio.locale), reason: how.reason },
    credited: how.creditedMinor > 0 ? moneyInText(studio)(how.creditedMinor) : null,
    shelf: row.board?.name ?? null,
  };
  await notify(tx, now, { personId: row.personId, occasion: 'membershipEnds', data });
}

/** Tells a member that it goes on, since notice was taken back or a pause ends sooner. */
export async function writeGoesOn(
  tx: Transaction,
  now: Date,
  row: MembershipRow,
  what: z.output<typeof MembershipGoesOnData>['what'],
) {
  const studio = await getStudio(tx);
  const data: z.output<typeof MembershipGoesOnData> = {
    ...{ kind: row.kind.name, what },
    fee: moneyInText(studio)(feeOn(row, localDay(now, studio.timeZone))),
  };
  await notify(tx, now, { personId: row.personId, occasion: 'membershipGoesOn', data });
}

const howOf = (row: MembershipRow, fee: MonthlyFee, studio: Awaited<ReturnType<typeof getStudio>>) =>
  daysInWords(
    { ...fee, pausePercent: fromDecimal(row.pausePercent) },
    moneyInText(studio)(fee.feeMinor),
    studio.locale,
  );

const includedOf = (row: MembershipRow) => ({
  benchMinutes: row.benchMinutes,
  firingLitres: fromDecimal(row.firingLitres),
  clay: row.clay && { name: row.clay.name, grams: row.clayGrams },
  shelf: row.board?.name ?? null,
});
