import type { Transaction } from '../../database/transaction.js';
import { fromDate, toDate } from '../../database/values.js';
import { newId } from '../../http/ids.js';
import { Problem } from '../../problems.js';
import { addDays } from '../../trade/calendar/calendar.js';
import { overlap } from '../../trade/money/membership-fee.js';
import { formatDay } from '../../trade/text/format.js';
import type { MembershipChanged, NewPause, ShorterPause } from './contract.js';
import { writeGoesOn, writePaused } from './letters.js';
import { settleMonths } from './months.js';
import { findMembership, lockOpenMembership, type MembershipRow, noteEvent } from './rows.js';
import { getMembership } from './to-api.js';
import { refuseWithVisits } from './use/visits.js';

type By = { staffMemberId: string };

/**
 * Pauses a membership from a day to another. What is charged already for days of it comes down by the pause's rate; nothing is included
 * meanwhile.
 */
export async function pauseMembership(
  tx: Transaction,
  now: Date,
  by: By,
  id: string,
  { from, to, method }: NewPause,
): Promise<MembershipChanged> {
  const { row, studio } = await lockOpenMembership(tx, now, id);
  refuseOutside(row, { from, to }, studio.locale);
  await refuseWithVisits(tx, id, { from, to }, studio);
  await tx.membershipPause.create({
    data: { id: newId(), membershipId: id, fromOn: toDate(from), toOn: toDate(to) },
  });
  const days = `${formatDay(from, studio.locale)} to ${formatDay(to, studio.locale)}`;
  const settled = await settleMonths(tx, now, id, { method, reason: `Paused, ${days}` });
  await noteEvent(tx, now, by, id, `Paused, ${days}`);
  await writePaused(tx, now, row, { from, to, ...settled });
  return { membership: await getMembership(tx, now, id), ...settled };
}

function refuseOutside(row: MembershipRow, { from, to }: { from: string; to: string }, locale: string): void {
  const starts = fromDate(row.startsOn);
  const ends = row.endsOn && fromDate(row.endsOn);
  const day = (at: string) => formatDay(at, locale);
  if (from < starts || (ends !== null && to > ends))
    throw new Problem(
      'outside-membership',
      ends === null
        ? `The membership starts on ${day(starts)}. Pause it from a later day.`
        : `The membership runs from ${day(starts)} to ${day(ends)}. Choose days within it.`,
    );
  const other = row.pauses.find(({ fromOn, toOn }) =>
    overlap({ from, to }, { from: fromDate(fromOn), to: fromDate(toOn) }),
  );
  if (other)
    throw new Problem(
      'already-there',
      `It is paused from ${day(fromDate(other.fromOn))} to ${day(fromDate(other.toOn))} already. Choose days before or after that.`,
    );
}

/** Ends a pause sooner, or takes it back; refused where a month was charged by it. */
export async function shortenPause(
  tx: Transaction,
  now: Date,
  by: By,
  id: string,
  pauseId: string,
  { to }: ShorterPause,
): Promise<MembershipChanged> {
  const { row, studio, today } = await lockOpenMembership(tx, now, id);
  const pause = row.pauses.find((each) => each.id === pauseId);
  if (!pause) throw new Problem('not-found', 'The membership has no such pause any more. Look it up again.');
  const [from, before] = [fromDate(pause.fromOn), fromDate(pause.toOn)];
  const day = (at: string) => formatDay(at, studio.locale);
  if (to !== null && (to >= before || to < from))
    throw new Problem(
      'invalid-request',
      `The pause is from ${day(from)} to ${day(before)}. Give an earlier last day in it.`,
      {
        errors: [{ pointer: '#/to', detail: `must be from ${from} to ${addDays(before, -1)}` }],
      },
    );
  if (before < today || (to !== null && to < addDays(today, -1)))
    throw new Problem('never-changes', 'What is past of the pause stays as it was. Give today or a later day.');
  const data = to === null ? { withdrawnAt: now } : { toOn: toDate(to) };
  await tx.membershipPause.update({ where: { id: pauseId }, data });
  const settled = await settleMonths(tx, now, id, { reason: 'The pause ended sooner' });
  await noteEvent(
    tx,
    now,
    by,
    id,
    to === null ? `The pause from ${day(from)} taken back` : `The pause from ${day(from)} ends on ${day(to)}`,
  );
  await writeGoesOn(
    tx,
    now,
    await findMembership(tx, id),
    to === null ? { kind: 'noPause' } : { kind: 'pauseEnds', to: day(to) },
  );
  return { membership: await getMembership(tx, now, id), ...settled };
}
