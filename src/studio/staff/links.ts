import type { Transaction } from '../../database/transaction.js';
import { newId } from '../../http/ids.js';
import { Problem } from '../../problems.js';
import type { LinkOwner, LinkPurpose, StaffMember } from './contract.js';
import { lockStaffMember, queueLinkLetter, unqueueLinkLetters } from './queries.js';
import { newToken, tokenHash } from './secrets.js';

const HOUR = 3_600_000;
/** An invitation waits for somebody who may be away; a new password is wanted now. */
export const LINK_HOURS: Record<LinkPurpose, number> = { invitation: 7 * 24, password: 24 };

/** The page on the desk; behind the # nothing of an address is sent, so no server log on the way holds the token. */
const addressFor = (ownAddress: string, token: string) => `${ownAddress}/password#${token}`;

const gone = () =>
  new Problem(
    'not-found',
    'This link does not work any more: it works once, and only for a while. Ask an owner of the studio for a new one, or sign in if you have chosen your password already.',
  );

export type LinkMaker = {
  /** who asks for it; null: a command on the machine */
  staffMemberId: string | null;
  /** how people reach the program, without a slash at the end */
  ownAddress: string;
};

/** Makes the link by which somebody chooses their password. Earlier ones of theirs end. @returns its address, which is not kept */
export async function makeLink(
  tx: Transaction,
  now: Date,
  staffMemberId: string,
  { purpose, maker, mailed }: { purpose: LinkPurpose; maker: LinkMaker; mailed: boolean },
): Promise<string> {
  await lockStaffMember(tx, staffMemberId);
  await endLinks(tx, now, staffMemberId);
  const token = newToken();
  const [id, address] = [newId(), addressFor(maker.ownAddress, token)];
  await tx.staffLink.create({
    data: {
      ...{ id, staffMemberId, purpose, madeById: maker.staffMemberId, tokenHash: tokenHash(token), createdAt: now },
      expiresAt: new Date(now.getTime() + LINK_HOURS[purpose] * HOUR),
    },
  });
  if (mailed) await queueLinkLetter(tx, id, address);
  return address;
}

/** Ends whatever link somebody has, and keeps its letter from leaving. */
export async function endLinks(tx: Transaction, now: Date, staffMemberId: string): Promise<void> {
  const open = await tx.staffLink.findMany({
    where: { staffMemberId, usedAt: null, endedAt: null },
    select: { id: true },
  });
  const ids = open.map(({ id }) => id);
  if (ids.length === 0) return;
  await tx.staffLink.updateMany({ where: { id: { in: ids } }, data: { endedAt: now } });
  await unqueueLinkLetters(tx, ids);
}

/** Whose password a link sets. @throws Problem not-found where it was used, has ended, or never was */
export async function getLinkOwner(tx: Transaction, now: Date, token: string): Promise<LinkOwner> {
  const link = await tx.staffLink.findFirst({
    where: { tokenHash: tokenHash(token), usedAt: null, endedAt: null, expiresAt: { gt: now } },
    include: { staffMember: true },
  });
  if (!link) throw gone();
  const { name, email, role } = link.staffMember;
  const studio = await tx.studio.findUnique({ where: { id: 1 }, select: { name: true } });
  const { purpose, expiresAt } = link;
  return { name, email, role, purpose, studioName: studio?.name ?? null, expiresAt: expiresAt.toISOString() };
}

/** Sets the password of whoever a link is for, once. They are signed out wherever the old one had signed them in. */
export async function setPasswordByLink(
  tx: Transaction,
  now: Date,
  { token, passwordHash }: { token: string; passwordHash: string },
): Promise<StaffMember> {
  const link = await tx.staffLink.findUnique({ where: { tokenHash: tokenHash(token) } });
  if (!link) throw gone();
  const { id, staffMemberId } = link;
  await lockStaffMember(tx, staffMemberId);
  const { count } = await tx.staffLink.updateMany({
    where: { id, usedAt: null, endedAt: null, expiresAt: { gt: now } },
    data: { usedAt: now },
  });
  if (count === 0) throw gone();
  await unqueueLinkLetters(tx, [id]);
  await tx.signIn.deleteMany({ where: { staffMemberId } });
  const row = await tx.staffMember.update({ where: { id: staffMemberId }, data: { passwordHash } });
  const { name, email, role } = row;
  return { id: staffMemberId, name, email, role };
}
