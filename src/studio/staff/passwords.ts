import type { Transaction } from '../../database/transaction.js';
import { Problem } from '../../problems.js';
import type { SessionsEnded } from './contract.js';
import { endLinks } from './links.js';
import { lockStaffMember } from './queries.js';
import { tokenHash } from './secrets.js';

/** The session that goes on: its token, in clear. */
type Session = { staffMemberId: string; token: string };

/**
 * Replaces somebody's own password, ends their sessions on other devices, and a link that was to set another.
 * @param known the hash that the old password was found to fit; null where it did not fit
 * @throws Problem invalid-request where it did not fit, or the password was changed meanwhile
 */
export async function changePassword(
  tx: Transaction,
  now: Date,
  session: Session,
  { known, passwordHash }: { known: string | null; passwordHash: string | null },
): Promise<SessionsEnded> {
  const { staffMemberId: id } = session;
  await lockStaffMember(tx, id);
  const row = await tx.staffMember.findFirst({ where: { id, removedAt: null } });
  if (known === null || passwordHash === null || row?.passwordHash !== known)
    throw new Problem('invalid-request', 'Nothing was changed. Check your current password.', {
      errors: [{ pointer: '#/currentPassword', detail: 'This is not your password. Try again.' }],
    });
  await tx.staffMember.update({ where: { id }, data: { passwordHash } });
  await endLinks(tx, now, id);
  return endOtherSessions(tx, session);
}

/** Signs somebody out everywhere but here. */
export async function endOtherSessions(tx: Transaction, { staffMemberId, token }: Session): Promise<SessionsEnded> {
  const { count } = await tx.signIn.deleteMany({ where: { staffMemberId, tokenHash: { not: tokenHash(token) } } });
  return { sessionsEnded: count };
}
