import type { Transaction } from '../../database/transaction.js';
import { Problem, see } from '../../problems.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { formatDay } from '../../trade/text/format.js';
import { getStudio } from '../settings/service.js';
import { type Clash, findMembershipClash, listClashes } from './queries.js';

/** Refuses two who have what one person can't have twice, and says where and what to do first. */
export async function refuseClashes(
  tx: Transaction,
  now: Date,
  pair: { goneId: string; staysId: string },
): Promise<void> {
  const memberships = await findMembershipClash(tx, pair);
  if (memberships)
    throw new Problem(
      'both-there',
      `Both are members at the same time: ${memberships.stays} and ${memberships.gone}. If they are one person, end one of the two memberships first, on its page; of two that have ended by now, they stay two entries.`,
      see('people', `/api/memberships?personId=${pair.goneId}&which=all`),
    );
  const both = { in: [pair.goneId, pair.staysId] };
  if (await tx.guardian.findFirst({ where: { childId: both, guardianId: both } }))
    throw new Problem('both-there', 'One of them is the guardian of the other, so they are two people.');
  const [first, ...more] = await listClashes(tx, pair, now);
  if (!first) return;
  const { timeZone, locale } = await getStudio(tx);
  const course = `“${first.title}” of ${formatDay(localDay(first.firstStartsAt, timeZone), locale)}`;
  const others =
    more.length === 0 ? '' : ` They meet in ${more.length} more ${more.length === 1 ? 'course' : 'courses'} too.`;
  throw new Problem('both-there', `${sentenceOf(first, course)}${others}`, see('people', `/api/people/${pair.goneId}`));
}

function sentenceOf({ gone, stays, isOver }: Clash, course: string): string {
  const has = new Set([gone, stays]);
  if (has.size === 1 && has.has('place'))
    return isOver
      ? `Both had a place on ${course}, which is over: its register has two people. They stay two entries.`
      : `Both have a place on ${course}. If they are one person, cancel one of the two places first.`;
  if (has.size === 1 && has.has('wait'))
    return `Both wait for a place on ${course}. Take one of them off the waiting list first.`;
  if (has.size === 1) return `Both make up a session on ${course}. Take one of the two off the register there first.`;
  return has.has('wait')
    ? `One waits for ${course} and the other has a place on it. Take the one who waits off the waiting list first.`
    : `One makes up a session on ${course} and the other has a place on it. Take the one who makes it up off the register there first.`;
}
