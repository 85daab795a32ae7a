import type { Transaction } from '../../database/transaction.js';
import { newId } from '../../http/ids.js';
import { Problem } from '../../problems.js';
import type { NewStaffMember, StaffEntry, StaffMember } from './contract.js';
import { endLinks, type LinkMaker, makeLink } from './links.js';
import { lockStaff } from './queries.js';

/** @throws Problem already-there where another member signs in with this address */
export async function refuseTakenEmail(tx: Transaction, email: string, exceptId?: string): Promise<void> {
  const taken = await tx.staffMember.count({
    where: { email, removedAt: null, ...(exceptId && { id: { not: exceptId } }) },
  });
  if (taken > 0) throw new Problem('already-there', `Somebody signs in as ${email} already. Use another address.`);
}

/** Those who work here, invited ones included; or those who were removed. */
export async function listStaff(tx: Transaction, now: Date, who: 'current' | 'removed'): Promise<StaffEntry[]> {
  const rows = await tx.staffMember.findMany({
    where: { removedAt: who === 'removed' ? { not: null } : null },
    include: toShow(now),
    orderBy: [{ name: 'asc' }, { id: 'asc' }],
  });
  return rows.map((row) => show(row, now));
}

async function getEntry(tx: Transaction, now: Date, id: string): Promise<StaffEntry> {
  return show(await tx.staffMember.findUniqueOrThrow({ where: { id }, include: toShow(now) }), now);
}

/** Somebody who works here. @throws Problem not-found where nobody has this id, or they were removed */
export async function getStaffMember(tx: Transaction, id: string): Promise<StaffMember> {
  const row = await tx.staffMember.findFirst({ where: { id, removedAt: null } });
  if (!row) throw new Problem('not-found', 'Nobody on the staff has this id, or they were removed. Look at the list.');
  const { name, email, role } = row;
  return { id, name, email, role };
}

/** As getStaffMember; nobody's role or address changes until the transaction ends. */
export async function lockStaffMembers(tx: Transaction, id: string): Promise<StaffMember> {
  await lockStaff(tx);
  return getStaffMember(tx, id);
}

export type EntryAndLink = { entry: StaffEntry; address: string };

/** Adds somebody, and writes them the link by which they choose their password. Until then nobody can sign in as them. */
export async function inviteStaffMember(
  tx: Transaction,
  now: Date,
  maker: LinkMaker,
  { name, email, role }: NewStaffMember,
): Promise<EntryAndLink> {
  await refuseTakenEmail(tx, email);
  const id = newId();
  await tx.staffMember.create({ data: { id, name, email, role, createdAt: now } });
  const address = await makeLink(tx, now, id, { purpose: 'invitation', maker, mailed: true });
  return { entry: await getEntry(tx, now, id), address };
}

/** Writes somebody a fresh link: to join, or to choose a new password if they have joined. The one they had ends. */
export async function renewLink(tx: Transaction, now: Date, maker: LinkMaker, id: string): Promise<EntryAndLink> {
  await lockStaffMembers(tx, id);
  const purpose = (await canSignIn(tx, id)) ? 'password' : 'invitation';
  const address = await makeLink(tx, now, id, { purpose, maker, mailed: true });
  return { entry: await getEntry(tx, now, id), address };
}

/**
 * Replaces what is said of somebody; what they may do changes with their next request. A link that went to another address ends.
 * @throws Problem last-owner where nobody would be left who can invite others
 */
export async function changeStaffMember(
  tx: Transaction,
  now: Date,
  id: string,
  wanted: NewStaffMember,
): Promise<StaffMember> {
  const before = await lockStaffMembers(tx, id);
  await refuseTakenEmail(tx, wanted.email, id);
  if (wanted.role !== 'owner') await refuseLastOwner(tx, id, 'Make somebody else an owner first.');
  if (wanted.email !== before.email) await endLinks(tx, now, id);
  await tx.staffMember.update({ where: { id }, data: wanted });
  return getStaffMember(tx, id);
}

/**
 * Ends somebody's sessions, tokens and links at once; an invitation is withdrawn. What they did keeps their name.
 * @throws Problem last-owner
 */
export async function removeStaffMember(tx: Transaction, now: Date, id: string): Promise<StaffEntry> {
  await lockStaff(tx);
  const row = await tx.staffMember.findUnique({ where: { id } });
  if (!row) throw new Problem('not-found', 'Nobody on the staff has this id. Look at the list.');
  if (row.removedAt) return getEntry(tx, now, id);
  await refuseLastOwner(tx, id, 'Make somebody else an owner before you remove them.');
  await endLinks(tx, now, id);
  await tx.signIn.deleteMany({ where: { staffMemberId: id } });
  await tx.apiToken.updateMany({ where: { staffMemberId: id, revokedAt: null }, data: { revokedAt: now } });
  await tx.staffMember.update({ where: { id }, data: { removedAt: now, passwordHash: null } });
  return getEntry(tx, now, id);
}

const canSignIn = async (tx: Transaction, id: string) =>
  (await tx.staffMember.count({ where: { id, removedAt: null, passwordHash: { not: null } } })) > 0;

/** Read it under the lock of all staff: two owners could else remove each other. */
async function refuseLastOwner(tx: Transaction, id: string, instead: string): Promise<void> {
  const owners = await tx.staffMember.findMany({
    where: { role: 'owner', removedAt: null, passwordHash: { not: null } },
    select: { id: true, name: true },
  });
  const [only, ...others] = owners;
  if (only?.id === id && others.length === 0)
    throw new Problem('last-owner', `${only.name} is the only owner who can sign in. ${instead}`);
}

const toShow = (now: Date) =>
  ({
    links: { where: { usedAt: null, endedAt: null } }, // one at most
    _count: { select: { sessionTutors: { where: { startsAt: { gt: now } } } } },
  }) as const;

type Row = Awaited<ReturnType<Transaction['staffMember']['findMany']>>[number] & {
  links: Awaited<ReturnType<Transaction['staffLink']['findMany']>>;
  _count: { sessionTutors: number };
};

function show({ id, name, email, role, passwordHash, removedAt, links: [link], _count }: Row, now: Date): StaffEntry {
  return {
    ...{ id, name, email, role },
    state: removedAt ? 'removed' : passwordHash === null ? 'invited' : 'active',
    removedAt: removedAt?.toISOString() ?? null,
    passwordLink: link
      ? {
          purpose: link.purpose,
          createdAt: link.createdAt.toISOString(),
          expiresAt: link.expiresAt.toISOString(),
          works: link.expiresAt > now,
          mail: mailOf(link),
        }
      : null,
    comingSessions: _count.sessionTutors,
  };
}

function mailOf({ mailOutcome, mailDetail, madeById }: Row['links'][number]) {
  if (madeById === null) return { state: 'notMailed' as const, detail: null }; // a command prints its link
  if (mailOutcome === null) return { state: 'waiting' as const, detail: null };
  return { state: mailOutcome === 'noAddress' ? ('failed' as const) : mailOutcome, detail: mailDetail };
}
