import { changed, type Transaction } from '../../database/transaction.js';
import { fromDate, toDate } from '../../database/values.js';
import { newId } from '../../http/ids.js';
import { Problem } from '../../problems.js';
import { addDays, localDay, monthOf } from '../../trade/calendar/calendar.js';
import { formatDay } from '../../trade/text/format.js';
import { lockPerson } from '../people/service.js';
import { getStudio } from '../settings/service.js';
import type { MembershipInFull, NewMembership } from './contract.js';
import type { MembershipKind } from './kind-contract.js';
import { kindFee, lockKind } from './kinds.js';
import { writeStarted } from './letters.js';
import { chargeMonths } from './months.js';
import { findMembership, noteEvent } from './rows.js';
import { assertShelf } from './shelves.js';
import { getMembership } from './to-api.js';

/** How far ahead one can be agreed: beyond it is a slip of the keys. */
const DAYS_AHEAD = 730;

/**
 * Makes somebody a member on the terms of a kind as they are now, at its fee or another that is agreed. What has begun is charged at
 * once; the rest is done by a job on the first day of each month.
 */
export async function startMembership(
  tx: Transaction,
  now: Date,
  by: { staffMemberId: string },
  personId: string,
  wanted: NewMembership,
): Promise<MembershipInFull> {
  const person = await lockPerson(tx, personId);
  const kind = await lockKind(tx, wanted.kindId);
  const { timeZone, locale } = await getStudio(tx);
  const today = localDay(now, timeZone);
  const { startsOn, chargedFrom = startsOn, boardId } = wanted;
  refuseDays({ startsOn, chargedFrom, today });
  await refuseTwice(tx, personId, person.name, startsOn, locale);
  if (boardId !== null) await assertShelf(tx, boardId, { hasShelf: kind.hasShelf, from: startsOn, to: null }, null);
  const [, feeDay = today] = [startsOn, today].sort();
  const feeMinor = wanted.feeMinor ?? kindFee(kind, feeDay);
  const id = newId();
  await tx.membership.create({
    data: {
      ...{ id, personId, kindId: kind.id, boardId, madeAt: now, madeById: by.staffMemberId },
      ...{ startsOn: toDate(startsOn), chargedFrom: toDate(chargedFrom), ...agreedTerms(kind) },
      fees: { create: { id: newId(), fromMonth: toDate(monthOf(startsOn)), feeMinor, addedAt: now } },
    },
  });
  if (person.memberSince === null) {
    await tx.person.update({ where: { id: personId }, data: { memberSince: toDate(startsOn) } });
    changed(tx, `person ${personId}`);
  }
  await noteEvent(tx, now, by, id, `${kind.name} from ${formatDay(startsOn, locale)}`);
  await writeStarted(tx, now, await findMembership(tx, id));
  await chargeMonths(tx, now, id);
  return getMembership(tx, now, id);
}

const agreedTerms = (kind: MembershipKind) => ({
  ...{ taxRateId: kind.taxRateId, noticeMonths: kind.noticeMonths, noticeDays: kind.noticeDays },
  ...{ pausePercent: kind.pausePercent, benchMinutes: kind.benchMinutes, firingLitres: kind.firingLitres },
  ...{ clayId: kind.clayId, clayGrams: kind.clayGrams, hasShelf: kind.hasShelf },
});

function refuseDays({ startsOn, chargedFrom, today }: { startsOn: string; chargedFrom: string; today: string }): void {
  const wrong = (pointer: string, detail: string, sentence: string) => {
    throw new Problem('invalid-request', sentence, { errors: [{ pointer, detail }] });
  };
  const last = addDays(today, DAYS_AHEAD);
  if (startsOn > last)
    wrong('#/startsOn', 'must be within two years', 'That is more than two years ahead. Check the first day.');
  if (chargedFrom < startsOn)
    wrong(
      '#/chargedFrom',
      'must not be before the first day',
      'Nothing is charged before the first day. Check both days.',
    );
  if (chargedFrom > last)
    wrong(
      '#/chargedFrom',
      'must be within two years',
      'That is more than two years ahead. Check from when it is charged.',
    );
  if (chargedFrom < monthOf(addDays(monthOf(today), -1)))
    wrong(
      '#/chargedFrom',
      'must not be before last month',
      'Months before the last are not charged afterwards: that would be a bill of many months at once. Charge it from a later day, and take what is missing in another way.',
    );
}

async function refuseTwice(tx: Transaction, personId: string, name: string, startsOn: string, locale: string) {
  const other = await tx.membership.findFirst({
    where: { personId, withdrawnAt: null, OR: [{ endsOn: null }, { endsOn: { gte: toDate(startsOn) } }] },
    include: { kind: { select: { name: true } } },
    orderBy: { startsOn: 'asc' },
  });
  if (!other) return;
  const since = formatDay(fromDate(other.startsOn), locale);
  throw new Problem(
    'already-member',
    other.endsOn === null
      ? `${name} is a member already: ${other.kind.name} from ${since}. Give notice of that first.`
      : `${name}’s membership, ${other.kind.name}, ends on ${formatDay(fromDate(other.endsOn), locale)}. Start this one after that day.`,
    { membershipId: other.id },
  );
}
