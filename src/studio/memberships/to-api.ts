import { inOrder } from '../../database/find-page.js';
import type { Transaction } from '../../database/transaction.js';
import { fromDate, fromDecimal } from '../../database/values.js';
import { addMonths, localDay, monthOf } from '../../trade/calendar/calendar.js';
import { lastDayAfterNotice, monthlyFee, monthsToCharge } from '../../trade/money/membership-fee.js';
import { getChargeStates } from '../accounts/queries.js';
import { getStudio } from '../settings/service.js';
import type { Membership, MembershipInFull, MembershipQuery } from './contract.js';
import { findMemberships, listOwed } from './queries.js';
import {
  countedIn,
  creditedOf,
  feeOn,
  findMembership,
  MEMBERSHIP_INCLUDE,
  type MembershipRow,
  termsOf,
} from './rows.js';

/** Memberships by their members' names, with what each owes. */
export async function listMemberships(tx: Transaction, now: Date, query: MembershipQuery) {
  const today = localDay(now, (await getStudio(tx)).timeZone);
  const { ids, ...found } = await findMemberships(tx, today, query);
  const rows = inOrder(ids, await tx.membership.findMany({ where: { id: { in: ids } }, include: MEMBERSHIP_INCLUDE }));
  const owed = await listOwed(tx, ids);
  return { items: rows.map((row) => show(row, today, owed.get(row.id) ?? 0)), ...found };
}

export async function getMembership(tx: Transaction, now: Date, id: string): Promise<MembershipInFull> {
  const row = await findMembership(tx, id);
  const { timeZone } = await getStudio(tx);
  const today = localDay(now, timeZone);
  const states = await getChargeStates(
    tx,
    row.months.flatMap(({ chargeId }) => chargeId ?? []),
  );
  const owedOf = (chargeId: string | null) => (chargeId === null ? 0 : (states.get(chargeId)?.owedMinor ?? 0));
  const owedMinor = row.months.reduce((sum, { chargeId }) => sum + owedOf(chargeId), 0);
  const events = await tx.membershipEvent.findMany({
    where: { membershipId: id },
    include: { madeBy: { select: { name: true } } },
    orderBy: { id: 'desc' },
  });
  const terms = termsOf(row);
  return {
    ...show(row, today, owedMinor),
    ...{ chargedFrom: terms.chargedFrom, taxName: row.taxRate.name, pausePercent: terms.pausePercent },
    ...{ noticeMonths: row.noticeMonths, noticeDays: row.noticeDays, lastDayIfToday: lastDayAfterNotice(today, row) },
    fees: [...terms.fees],
    pauses: row.pauses.map(({ id, fromOn, toOn }) => ({ id, from: fromDate(fromOn), to: fromDate(toOn) })),
    months: row.months.map((month) => ({
      ...{ month: fromDate(month.month), feeMinor: month.feeMinor, monthDays: month.monthDays },
      ...{ fullDays: countedIn(month).fullDays, pausedDays: countedIn(month).pausedDays },
      ...{ pausePercent: fromDecimal(month.pausePercent), amountMinor: countedIn(month).amountMinor },
      ...{ chargedOn: localDay(month.notedAt, timeZone), chargeId: month.chargeId, creditedMinor: creditedOf(month) },
      owedMinor: owedOf(month.chargeId),
    })),
    next: nextOf(row, today),
    events: events.map(({ at, madeBy, what }) => ({ at: at.toISOString(), by: madeBy.name, what })),
  };
}

/** What is charged next, on the first day of a month or on that from which it is charged. */
function nextOf(row: MembershipRow, today: string): MembershipInFull['next'] {
  if (row.withdrawnAt !== null) return null;
  const terms = termsOf(row);
  const known = new Set(row.months.map(({ month }) => fromDate(month)));
  const [, from = today] = [today, terms.chargedFrom].sort();
  const month = monthsToCharge(terms, addMonths(monthOf(from), 1)).find((each) => !known.has(each));
  const fee = month === undefined ? null : monthlyFee(terms, month);
  if (fee === null) return null;
  const [, on = fee.month] = [fee.month, terms.chargedFrom].sort();
  return { month: fee.month, on, amountMinor: fee.amountMinor };
}

function show(row: MembershipRow, today: string, owedMinor: number): Membership {
  const [last] = row.months;
  const pause = row.pauses.find(({ fromOn, toOn }) => fromDate(fromOn) <= today && today <= fromDate(toOn));
  return {
    ...{ id: row.id, personId: row.personId, personName: row.person.name, kindId: row.kindId, kindName: row.kind.name },
    state: stateOf(row, today, pause !== undefined),
    startsOn: fromDate(row.startsOn),
    endsOn: row.endsOn && fromDate(row.endsOn),
    feeMinor: feeOn(row, today),
    pausedUntil: pause ? fromDate(pause.toOn) : null,
    lastMonth: last
      ? { month: fromDate(last.month), amountMinor: countedIn(last).amountMinor, chargeId: last.chargeId }
      : null,
    owedMinor,
    shelf: row.boardId !== null && row.board ? { boardId: row.boardId, name: row.board.name } : null,
    included: {
      benchMinutes: row.benchMinutes,
      firingLitres: fromDecimal(row.firingLitres),
      clay:
        row.clayId !== null && row.clay ? { materialId: row.clayId, name: row.clay.name, grams: row.clayGrams } : null,
      shelf: row.hasShelf,
    },
  };
}

function stateOf(row: MembershipRow, today: string, isPaused: boolean): Membership['state'] {
  if (row.withdrawnAt !== null) return 'withdrawn';
  if (row.endsOn !== null && fromDate(row.endsOn) < today) return 'ended';
  if (fromDate(row.startsOn) > today) return 'coming';
  if (isPaused) return 'paused';
  return row.endsOn === null ? 'current' : 'noticeGiven';
}
