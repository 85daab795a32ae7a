import type { Transaction } from '../../database/transaction.js';
import { fromDate, toDate } from '../../database/values.js';
import { newId } from '../../http/ids.js';
import { Problem } from '../../problems.js';
import { addDays, addMonths, localDay, monthOf } from '../../trade/calendar/calendar.js';
import { feeFrom } from '../../trade/money/membership-fee.js';
import { formatDay } from '../../trade/text/format.js';
import { getStudio } from '../settings/service.js';
import type { MembershipFeeChanged, MembershipKind, NewMembershipFee } from './kind-contract.js';
import { getListedKind, lockKind } from './kinds.js';
import { writeNewFee } from './letters.js';
import { lockMembership, noteEvent, termsOf } from './rows.js';

/**
 * A new fee of a kind from a day on. Members pay it from a month on, with the notice that the kind states, and each is told by letter;
 * or they keep theirs. Earlier fees stay.
 */
export async function addFee(
  tx: Transaction,
  now: Date,
  by: { staffMemberId: string },
  kindId: string,
  { feeMinor, validFrom, membersFrom }: NewMembershipFee,
): Promise<MembershipFeeChanged> {
  const kind = await lockKind(tx, kindId);
  const { timeZone, locale } = await getStudio(tx);
  const today = localDay(now, timeZone);
  if (validFrom < today)
    throw wrong(
      '#/validFrom',
      'must not be past',
      'A new fee is from today on, or from a later day. What was agreed before stays.',
    );
  if (membersFrom !== null) refuseSoon(kind, membersFrom, { today, validFrom, locale });
  await tx.membershipKindFee.create({
    data: { id: newId(), kindId, validFrom: toDate(validFrom), feeMinor, addedAt: now },
  });
  let told = 0;
  if (membersFrom !== null)
    for (const id of await membersOf(tx, kindId, membersFrom)) {
      const row = await lockMembership(tx, id);
      if (feeFrom(termsOf(row).fees, laterOf(membersFrom, monthOf(fromDate(row.startsOn)))) === feeMinor) continue;
      await writeNewFee(tx, now, row, { month: membersFrom, feeMinor });
      const fee = { id: newId(), membershipId: id, fromMonth: toDate(membersFrom), feeMinor, addedAt: now };
      await tx.membershipFee.create({ data: fee });
      await noteEvent(tx, now, by, id, `Told of a new fee from ${formatDay(membersFrom, locale)}`);
      told++;
    }
  return { kind: await getListedKind(tx, now, kindId), told };
}

/** Those whose membership goes on in that month, in the order in which they are locked; who joins later agrees to the new fee anyway. */
async function membersOf(tx: Transaction, kindId: string, month: string): Promise<string[]> {
  const rows = await tx.membership.findMany({
    where: {
      ...{ kindId, withdrawnAt: null, startsOn: { lt: toDate(month) } },
      OR: [{ endsOn: null }, { endsOn: { gte: toDate(month) } }],
    },
    select: { id: true },
    orderBy: { id: 'asc' },
  });
  return rows.map(({ id }) => id);
}

function refuseSoon(
  { feeNoticeDays }: MembershipKind,
  membersFrom: string,
  { today, validFrom, locale }: { today: string; validFrom: string; locale: string },
): void {
  if (membersFrom !== monthOf(membersFrom))
    throw wrong(
      '#/membersFrom',
      'must be the first day of a month',
      'Members pay a new fee from the first day of a month. Choose one.',
    );
  const told = laterOf(addDays(today, feeNoticeDays), validFrom);
  // the month that runs is charged already, or will be by the fee that was agreed for it
  const soonest = laterOf(told === monthOf(told) ? told : addMonths(monthOf(told), 1), addMonths(monthOf(today), 1));
  if (membersFrom < soonest)
    throw new Problem(
      'notice-too-short',
      `Members hear of a new fee ${feeNoticeDays} days before. Told today, they pay it from ${formatDay(soonest, locale)}.`,
      { soonest },
    );
}

const laterOf = (a: string, b: string): string => [a, b].sort()[1] ?? a;

const wrong = (pointer: string, detail: string, sentence: string) =>
  new Problem('invalid-request', sentence, { errors: [{ pointer, detail }] });
