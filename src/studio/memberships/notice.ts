import type { Transaction } from '../../database/transaction.js';
import { fromDate, toDate } from '../../database/values.js';
import { Problem } from '../../problems.js';
import { addDays } from '../../trade/calendar/calendar.js';
import { lastDayAfterNotice } from '../../trade/money/membership-fee.js';
import { formatDay } from '../../trade/text/format.js';
import type { MembershipChanged, MembershipInFull, NewNotice } from './contract.js';
import { writeEnds, writeGoesOn } from './letters.js';
import { settleMonths } from './months.js';
import { findMembership, lockOpenMembership, noteEvent } from './rows.js';
import { getMembership } from './to-api.js';
import { refuseWithVisits } from './use/visits.js';

type By = { staffMemberId: string };

/** Ends a membership with notice: on the day that its terms say, on a later one, or sooner where the owner says why. */
export async function giveNotice(
  tx: Transaction,
  now: Date,
  by: By,
  id: string,
  wanted: NewNotice,
): Promise<MembershipChanged> {
  const { row, studio, today } = await lockOpenMembership(tx, now, id);
  const day = (at: string) => formatDay(at, studio.locale);
  if (row.endsOn !== null)
    throw new Problem(
      'membership-over',
      `Notice is given already: the last day is ${day(fromDate(row.endsOn))}. Take that back first.`,
    );
  const starts = fromDate(row.startsOn);
  const byTerms = lastDayAfterNotice(today, row);
  const [, soonest = byTerms] = [byTerms, starts].sort();
  const { lastDay = soonest, reason, method } = wanted;
  refuseLastDay(lastDay, { byTerms, today, starts, reason, day });
  const pause = row.pauses.find(({ toOn }) => fromDate(toOn) > lastDay);
  if (pause)
    throw new Problem(
      'outside-membership',
      `It is paused until ${day(fromDate(pause.toOn))}. End the pause by ${day(lastDay)} first, or choose a later last day.`,
    );
  await refuseWithVisits(tx, id, { from: addDays(lastDay, 1), to: null }, studio);
  await tx.membership.update({ where: { id }, data: { endsOn: toDate(lastDay) } });
  const settled = await settleMonths(tx, now, id, { method, reason: reason ?? `Ends on ${day(lastDay)}` });
  await noteEvent(tx, now, by, id, `Notice: ends on ${day(lastDay)}${reason === null ? '' : ` (${reason})`}`);
  await writeEnds(tx, now, await findMembership(tx, id), { ...settled, reason });
  return { membership: await getMembership(tx, now, id), ...settled };
}

type LastDay = { byTerms: string; today: string; starts: string; reason: string | null; day(at: string): string };

function refuseLastDay(lastDay: string, { byTerms, today, starts, reason, day }: LastDay): void {
  const wrong = (sentence: string, detail: string) =>
    new Problem('invalid-request', sentence, { errors: [{ pointer: '#/lastDay', detail }] });
  if (lastDay < starts)
    throw wrong(`It starts on ${day(starts)}. Choose a later last day, or cancel it.`, 'must not be before it starts');
  if (lastDay < today) throw wrong('The last day can’t be past. Choose today or a later day.', 'must not be past');
  if (lastDay < byTerms && reason === null)
    throw new Problem(
      'notice-too-short',
      `By its terms the last day is ${day(byTerms)}. Choose that day, or write why it ends sooner.`,
      { byTerms },
    );
}

/** It goes on after all; refused where its last month was charged by its days. */
export async function takeNoticeBack(tx: Transaction, now: Date, by: By, id: string): Promise<MembershipInFull> {
  const { row, studio } = await lockOpenMembership(tx, now, id);
  if (row.endsOn === null)
    throw new Problem('membership-changed', 'No notice is given, so there is nothing to take back.');
  const later = await tx.membership.findFirst({
    where: { personId: row.personId, withdrawnAt: null, startsOn: { gt: row.endsOn } },
    include: { kind: true },
  });
  if (later)
    throw new Problem(
      'already-member',
      `Another membership, ${later.kind.name}, starts on ${formatDay(fromDate(later.startsOn), studio.locale)}. Cancel that one first.`,
    );
  await tx.membership.update({ where: { id }, data: { endsOn: null } });
  await settleMonths(tx, now, id, { reason: 'Notice taken back' });
  await noteEvent(tx, now, by, id, 'Notice taken back');
  await writeGoesOn(tx, now, await findMembership(tx, id), { kind: 'noticeTakenBack' });
  return getMembership(tx, now, id);
}

/** One that was entered by mistake, or that somebody thought better of: gone as long as nothing was charged for it. */
export async function withdrawMembership(
  tx: Transaction,
  now: Date,
  by: By,
  id: string,
  reason: string,
): Promise<MembershipInFull> {
  const { row, studio } = await lockOpenMembership(tx, now, id);
  if (row.months.length > 0)
    throw new Problem(
      'month-charged',
      'A month is charged already, so it is ended, not cancelled. Give notice, with its last day.',
    );
  await refuseWithVisits(tx, id, { from: fromDate(row.startsOn), to: null }, studio);
  await tx.membershipPause.updateMany({ where: { membershipId: id, withdrawnAt: null }, data: { withdrawnAt: now } });
  await noteEvent(tx, now, by, id, `Cancelled before anything was charged: ${reason}`);
  await tx.membership.update({ where: { id }, data: { withdrawnAt: now } });
  return getMembership(tx, now, id);
}
