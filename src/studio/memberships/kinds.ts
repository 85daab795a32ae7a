import type { Prisma } from '../../database/generated/client.js';
import { lockRow } from '../../database/lock-row.js';
import type { Transaction } from '../../database/transaction.js';
import { fromDate, fromDecimal, toDate } from '../../database/values.js';
import { newId } from '../../http/ids.js';
import { Problem, see } from '../../problems.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { getMaterial } from '../materials/service.js';
import { getStudio, getTaxRate } from '../settings/service.js';
import type {
  ChangedMembershipKind,
  ListedMembershipKind,
  MembershipKind,
  NewMembershipKind,
} from './kind-contract.js';
import { countMembers } from './queries.js';

const KIND_INCLUDE = {
  clay: { select: { name: true } },
  taxRate: { select: { name: true } },
  fees: { orderBy: [{ validFrom: 'asc' }, { id: 'asc' }] },
} as const satisfies Prisma.MembershipKindInclude;

type Row = Prisma.MembershipKindGetPayload<{ include: typeof KIND_INCLUDE }>;

/** On what terms people can be members, with what somebody who joins today pays, and how many there are. */
export async function listKinds(tx: Transaction, now: Date): Promise<ListedMembershipKind[]> {
  const today = localDay(now, (await getStudio(tx)).timeZone);
  const rows = await tx.membershipKind.findMany({ include: KIND_INCLUDE, orderBy: { name: 'asc' } });
  const members = await countMembers(tx, today);
  return rows.map((row) => {
    const kind = showKind(row);
    return { ...kind, feeMinor: kindFee(kind, today), members: members.get(row.id) ?? 0 };
  });
}

export async function getListedKind(tx: Transaction, now: Date, id: string): Promise<ListedMembershipKind> {
  return (await listKinds(tx, now)).find((kind) => kind.id === id) ?? noKind();
}

export async function getKind(tx: Transaction, id: string): Promise<MembershipKind> {
  const row = await tx.membershipKind.findUnique({ where: { id }, include: KIND_INCLUDE });
  return row ? showKind(row) : noKind();
}

function noKind(): never {
  throw new Problem(
    'not-found',
    'No kind of membership has this id. Look for it on the page People, under Members.',
    see('people', '/api/membership-kinds'),
  );
}

export async function lockKind(tx: Transaction, id: string): Promise<MembershipKind> {
  await lockRow(tx, 'membership_kind', id);
  return getKind(tx, id);
}

export async function addKind(tx: Transaction, now: Date, wanted: NewMembershipKind): Promise<ListedMembershipKind> {
  const { feeMinor, ...terms } = wanted;
  await refuseUnfit(tx, null, terms);
  const id = newId();
  const validFrom = toDate(localDay(now, (await getStudio(tx)).timeZone));
  const fee = { id: newId(), validFrom, feeMinor, addedAt: now };
  await tx.membershipKind.create({ data: { id, ...terms, fees: { create: fee } } });
  return getListedKind(tx, now, id);
}

/** Replaces what is said of a kind, for those who join from now on: what members agreed is kept with each of them. */
export async function changeKind(tx: Transaction, id: string, wanted: ChangedMembershipKind): Promise<MembershipKind> {
  await refuseUnfit(tx, id, wanted);
  await tx.membershipKind.update({ where: { id }, data: wanted });
  return getKind(tx, id);
}

export async function removeKind(tx: Transaction, id: string): Promise<void> {
  const { name } = await getKind(tx, id);
  if ((await tx.membership.count({ where: { kindId: id } })) > 0)
    throw new Problem(
      'still-needed',
      `People are or were members by "${name}", so it stays. Rename it if you no longer offer it.`,
    );
  await tx.membershipKind.delete({ where: { id } });
}

async function refuseUnfit(tx: Transaction, id: string | null, { name, taxRateId, clayId }: ChangedMembershipKind) {
  if ((await tx.membershipKind.count({ where: { name, ...(id && { id: { not: id } }) } })) > 0)
    throw new Problem('already-there', `There is a membership named "${name}" already. Choose another name.`);
  await getTaxRate(tx, taxRateId);
  if (clayId === null) return;
  const clay = await getMaterial(tx, clayId);
  if (clay.unit !== 'g')
    throw new Problem('invalid-request', `${clay.name} is not sold by weight. Choose a clay.`, {
      errors: [{ pointer: '#/clayId', detail: 'must be sold by weight' }],
    });
}

/** What somebody pays who joins on a day: the latest fee that holds by then; before the first of all, that one. */
export function kindFee({ fees }: Pick<MembershipKind, 'fees'>, on: string): number {
  const fee = fees.findLast(({ validFrom }) => validFrom <= on) ?? fees[0];
  if (!fee) throw new Error('A kind of membership is never without a fee.');
  return fee.feeMinor;
}

function showKind({ clay, taxRate, fees, pausePercent, firingLitres, ...row }: Row): MembershipKind {
  return {
    ...row,
    pausePercent: fromDecimal(pausePercent),
    firingLitres: fromDecimal(firingLitres),
    clayName: clay?.name ?? null,
    taxName: taxRate.name,
    fees: fees.map(({ validFrom, feeMinor }) => ({ validFrom: fromDate(validFrom), feeMinor })),
  };
}
