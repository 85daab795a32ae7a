import type { Prisma } from '../../database/generated/client.js';
import { lockRow } from '../../database/lock-row.js';
import type { Transaction } from '../../database/transaction.js';
import { fromDate, fromDecimal } from '../../database/values.js';
import { newId } from '../../http/ids.js';
import { Problem, see } from '../../problems.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { type FeeTerms, feeFrom } from '../../trade/money/membership-fee.js';
import type { Studio } from '../settings/contract.js';
import { getStudio } from '../settings/service.js';

export const MEMBERSHIP_INCLUDE = {
  person: { select: { name: true } },
  kind: { select: { name: true, writesLetters: true } },
  taxRate: { select: { name: true } },
  clay: { select: { name: true } },
  board: { select: { name: true } },
  fees: { orderBy: { id: 'asc' } },
  pauses: { where: { withdrawnAt: null }, orderBy: { fromOn: 'asc' } },
  months: {
    orderBy: { month: 'desc' },
    include: { changes: { orderBy: { id: 'asc' }, include: { credit: { select: { amountMinor: true } } } } },
  },
} as const satisfies Prisma.MembershipInclude;

export type MembershipRow = Prisma.MembershipGetPayload<{ include: typeof MEMBERSHIP_INCLUDE }>;

/** A membership as it is kept. @throws Problem not-found */
export async function findMembership(tx: Transaction, id: string): Promise<MembershipRow> {
  const row = await tx.membership.findUnique({ where: { id }, include: MEMBERSHIP_INCLUDE });
  if (!row)
    throw new Problem(
      'not-found',
      'No membership has this id. Look for it on the page People, under Members.',
      see('people', '/api/memberships'),
    );
  return row;
}

/** As findMembership, and nobody else can change or charge it until the transaction ends. */
export async function lockMembership(tx: Transaction, id: string): Promise<MembershipRow> {
  await lockRow(tx, 'membership', id);
  return findMembership(tx, id);
}

/** A membership that is to be changed, with the day. @throws Problem membership-over where it was withdrawn or has ended */
export async function lockOpenMembership(
  tx: Transaction,
  now: Date,
  id: string,
): Promise<{ row: MembershipRow; studio: Studio; today: string }> {
  const row = await lockMembership(tx, id);
  const studio = await getStudio(tx);
  const today = localDay(now, studio.timeZone);
  if (row.withdrawnAt !== null || (row.endsOn !== null && fromDate(row.endsOn) < today))
    throw new Problem('membership-over', `${row.person.name}’s membership has ended. Start a new one on their page.`);
  return { row, studio, today };
}

export const termsOf = (
  row: Pick<MembershipRow, 'chargedFrom' | 'endsOn' | 'pauses' | 'pausePercent' | 'fees'>,
): FeeTerms => ({
  chargedFrom: fromDate(row.chargedFrom),
  endsOn: row.endsOn && fromDate(row.endsOn),
  pauses: row.pauses.map(({ fromOn, toOn }) => ({ from: fromDate(fromOn), to: fromDate(toOn) })),
  pausePercent: fromDecimal(row.pausePercent),
  fees: row.fees.map(({ fromMonth, feeMinor }) => ({ fromMonth: fromDate(fromMonth), feeMinor })),
});

/** The fee that holds on a day; of one that is still to begin, its first. */
export function feeOn(row: MembershipRow, day: string): number {
  const [, on = day] = [day, fromDate(row.startsOn)].sort();
  return feeFrom(termsOf(row).fees, on);
}

type Month = MembershipRow['months'][number];

/** What a month came to in the end. */
export const countedIn = (month: Month) => month.changes.at(-1) ?? month;

export const creditedOf = ({ changes }: Month) => changes.reduce((sum, { credit }) => sum + credit.amountMinor, 0);

/** Notes in a membership's history who did what. */
export async function noteEvent(
  tx: Transaction,
  at: Date,
  { staffMemberId: madeById }: { staffMemberId: string },
  membershipId: string,
  what: string,
): Promise<void> {
  await tx.membershipEvent.create({ data: { id: newId(), membershipId, at, madeById, what } });
}
