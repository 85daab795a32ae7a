import type { Transaction } from '../../database/transaction.js';
import { fromDate, toDate } from '../../database/values.js';
import { newId } from '../../http/ids.js';
import { Problem } from '../../problems.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { type MonthlyFee, monthlyFee, monthsToCharge } from '../../trade/money/membership-fee.js';
import { createCharge, creditPart, recordSupply } from '../accounts/charges/charges.js';
import type { RefundMethod } from '../accounts/contract.js';
import { getChargeStates, lockCharges } from '../accounts/queries.js';
import { getStudio } from '../settings/service.js';
import { writeCharged } from './letters.js';
import { listToCharge, listToSupply } from './queries.js';
import { countedIn, lockMembership, type MembershipRow, termsOf } from './rows.js';
import { monthInWords } from './words.js';

/**
 * Charges each month of a membership that has begun and is not charged yet, however many there are: once, since its row is locked and
 * the month is a key. A month that comes to nothing is noted without a charge.
 *
 * @returns how many months were noted
 */
export async function chargeMonths(tx: Transaction, now: Date, id: string): Promise<number> {
  const row = await lockMembership(tx, id);
  if (row.withdrawnAt !== null) return 0;
  const { timeZone } = await getStudio(tx);
  const today = localDay(now, timeZone);
  const terms = termsOf(row);
  const known = new Set(row.months.map(({ month }) => fromDate(month)));
  const charged: MonthlyFee[] = [];
  for (const month of monthsToCharge(terms, today)) {
    const fee = known.has(month) ? null : monthlyFee(terms, month);
    if (fee === null) continue;
    await chargeMonth(tx, now, row, today, fee);
    charged.push(fee);
  }
  if (row.kind.writesLetters && charged.some(({ amountMinor }) => amountMinor > 0))
    await writeCharged(tx, now, row, charged);
  return charged.length;
}

/** As the job does for all memberships, in one transaction: for a studio that is lived through day by day. */
export async function chargeBegunMonths(tx: Transaction, now: Date): Promise<void> {
  const today = localDay(now, (await getStudio(tx)).timeZone);
  for (const id of await listToCharge(tx, today)) await chargeMonths(tx, now, id);
  for (const chargeId of await listToSupply(tx, today)) await recordSupply(tx, now, chargeId);
}

async function chargeMonth(tx: Transaction, now: Date, row: MembershipRow, today: string, fee: MonthlyFee) {
  const { locale } = await getStudio(tx);
  const { amountMinor, month, ...days } = fee;
  const chargeId =
    amountMinor === 0
      ? null
      : await createCharge(tx, now, {
          ...{ personId: row.personId, kind: 'membership', grossMinor: amountMinor, taxRateId: row.taxRateId },
          description: `${row.kind.name}, ${monthInWords(month, locale)}`,
          inAdvance: true,
          instalments: [{ dueOn: today, amountMinor }],
        });
  await tx.membershipMonth.create({
    data: {
      ...{ membershipId: row.id, month: toDate(month), ...days, pausePercent: row.pausePercent },
      ...{ amountMinor, chargeId, notedAt: now },
    },
  });
}

type Settling = { method?: RefundMethod | undefined; reason: string };

/**
 * After a membership was paused or ended: takes off what fewer days now count in months that are charged already. What of it was paid
 * goes back with a credit note. Call it under the membership's lock.
 *
 * @throws Problem month-charged where more days count than were charged
 */
export async function settleMonths(
  tx: Transaction,
  now: Date,
  id: string,
  { method, reason }: Settling,
): Promise<{ creditedMinor: number; refundMinor: number }> {
  const row = await lockMembership(tx, id);
  const terms = termsOf(row);
  const changed = row.months.flatMap((charged) => {
    const counts = monthlyFee(terms, fromDate(charged.month));
    const lessMinor = countedIn(charged).amountMinor - (counts?.amountMinor ?? 0);
    if (lessMinor < 0) throw tooLate(row, fromDate(charged.month));
    return lessMinor === 0 || charged.chargeId === null
      ? []
      : [{ month: charged.month, chargeId: charged.chargeId, counts, lessMinor }];
  });
  const chargeIds = changed.map(({ chargeId }) => chargeId);
  await lockCharges(tx, chargeIds);
  const before = await getChargeStates(tx, chargeIds);
  let refundMinor = 0;
  for (const { month, chargeId, counts, lessMinor } of changed) {
    const creditId = await creditPart(tx, now, chargeId, { amountMinor: lessMinor, method, reason });
    if (creditId === null) throw new Error('A credit of something has an id.');
    refundMinor += Math.max(0, lessMinor - (before.get(chargeId)?.owedMinor ?? 0));
    const { fullDays = 0, pausedDays = 0, amountMinor = 0 } = counts ?? {};
    await tx.membershipMonthChange.create({
      data: { id: newId(), membershipId: id, month, fullDays, pausedDays, amountMinor, creditId, at: now },
    });
  }
  return { creditedMinor: changed.reduce((sum, { lessMinor }) => sum + lessMinor, 0), refundMinor };
}

function tooLate({ person }: MembershipRow, month: string): Problem {
  const when = monthInWords(month, 'en-GB');
  return new Problem(
    'month-charged',
    `${when} is charged already, by fewer days than would count. Let it end or go on as it is, and start ${person.name}’s membership again.`,
    { month },
  );
}
