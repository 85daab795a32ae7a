import { type Database, inTransaction, type Transaction } from '../../database/transaction.js';
import { Problem } from '../../problems.js';
import type { Credentials, StaffMember } from './contract.js';
import { lockPasswordHash, readSession } from './queries.js';
import { isPassword, newToken, tokenHash } from './secrets.js';

const HOUR = 3_600_000;
export const ABSOLUTE_HOURS = 30 * 24;
const IDLE_HOURS = 72;
const NOTED_EVERY_MINUTES = 5;

/** Checks the password and opens a session under a new token, whatever cookie the browser sent before. @returns the token */
export async function signIn(db: Database, now: Date, credentials: Credentials): Promise<string> {
  const row = await db.staffMember.findFirst({ where: { email: credentials.email, removedAt: null } });
  const known = row?.passwordHash ?? null;
  const right = await isPassword(known, credentials.password);
  const token = newToken();
  const opened = row !== null && right && (await inTransaction(db, (tx) => openSession(tx, now, row.id, known, token)));
  if (!opened) throw new Problem('wrong-password', 'Check both and try again.');
  return token;
}

/** Lets somebody in as an owner without a password: into the sample studio, from the studio beside it. @returns the token */
export async function openSessionOfOwner(db: Database, now: Date): Promise<string> {
  const owner = await db.staffMember.findFirstOrThrow({
    where: { role: 'owner', removedAt: null, passwordHash: { not: null } },
    orderBy: { id: 'asc' },
  });
  const token = newToken();
  await inTransaction(db, (tx) => openSession(tx, now, owner.id, owner.passwordHash, token));
  return token;
}

/** @returns false where the password was changed, or its owner removed, while it was looked at */
async function openSession(tx: Transaction, now: Date, staffMemberId: string, known: string | null, token: string) {
  if ((await lockPasswordHash(tx, staffMemberId)) !== known) return false;
  await tx.signIn.create({ data: { tokenHash: tokenHash(token), staffMemberId, createdAt: now, lastUsedAt: now } });
  return true;
}

export async function signOut(db: Database, token: string): Promise<void> {
  await db.signIn.deleteMany({ where: { tokenHash: tokenHash(token) } });
}

/** Whose session a token is; null where there is none, or it ended: 30 days after signing in, or 72 hours after it was last used. */
export async function findSession(db: Database, now: Date, token: string): Promise<StaffMember | null> {
  const key = tokenHash(token);
  const row = await readSession(db, key);
  if (!row || row.removedAt) return null;
  const age = now.getTime() - row.createdAt.getTime();
  const idle = now.getTime() - row.lastUsedAt.getTime();
  if (age > ABSOLUTE_HOURS * HOUR || idle > IDLE_HOURS * HOUR) {
    await db.signIn.deleteMany({ where: { tokenHash: key } });
    return null;
  }
  if (idle > NOTED_EVERY_MINUTES * 60_000)
    await db.signIn.updateMany({ where: { tokenHash: key }, data: { lastUsedAt: now } });
  const { staffMemberId: id, name, email, role } = row;
  return { id, name, email, role };
}
