import type { Database, Transaction } from '../../database/transaction.js';
import type { StaffMember } from './contract.js';

/** After a backup was restored: whoever was signed in then, perhaps by a cookie that was lost since, signs in again. */
export const SIGN_EVERYBODY_OUT = 'DELETE FROM sign_in';

/** After a backup was restored: a link that was used or withdrawn since must not work once more. */
export const END_STAFF_LINKS = 'UPDATE staff_link SET ended_at = now() WHERE used_at IS NULL AND ended_at IS NULL';

/** As many tries as any other letter gets: see studio/notices/queries.ts. */
const ATTEMPTS_MAX = 30;

/**
 * Queues the letter with a link in the transaction that makes it. The link stands in the job and nowhere else, and goes when the letter
 * has left: neither the tables nor a backup hold it.
 */
export async function queueLinkLetter(tx: Transaction, linkId: string, address: string): Promise<void> {
  await tx.$executeRaw`
    SELECT 1 FROM graphile_worker.add_job('deliver-staff-link', json_build_object('linkId', ${linkId}::text, 'address', ${address}::text),
      job_key := ${`staff-link-${linkId}`}, max_attempts := ${ATTEMPTS_MAX})`;
}

/** Takes letters out of the queue whose links have ended. One that is being written already ends by itself. */
export async function unqueueLinkLetters(tx: Transaction, linkIds: readonly string[]): Promise<void> {
  const keys = linkIds.map((id) => `staff-link-${id}`);
  await tx.$executeRaw`SELECT graphile_worker.remove_job(key) FROM unnest(${keys}::text[]) AS key`;
}

/** Keeps everybody's role and removal as they are until the transaction ends: whether an owner is the last one depends on all. */
export async function lockStaff(tx: Transaction): Promise<void> {
  await tx.$queryRaw`SELECT id FROM staff_member WHERE removed_at IS NULL ORDER BY id FOR NO KEY UPDATE`;
}

/** Keeps one member's password and removal as they are until the transaction ends. */
export async function lockStaffMember(tx: Transaction, id: string): Promise<void> {
  await tx.$queryRaw`SELECT id FROM staff_member WHERE id = ${id}::uuid FOR NO KEY UPDATE`;
}

export type Session = {
  staffMemberId: string;
  name: string;
  email: string;
  role: StaffMember['role'];
  removedAt: Date | null;
  createdAt: Date;
  lastUsedAt: Date;
};

/** The session of a token, by its hash, and whose it is. Each request of the desk asks for it: by hand, at a third of what it would cost. */
export async function readSession(db: Database, hash: string): Promise<Session | null> {
  const [row = null] = await db.$queryRaw<Session[]>`
    SELECT m.id::text AS "staffMemberId", m.name, m.email, m.role::text AS role, m.removed_at AS "removedAt",
           s.created_at AS "createdAt", s.last_used_at AS "lastUsedAt"
      FROM sign_in s JOIN staff_member m ON m.id = s.staff_member_id WHERE s.token_hash = ${hash}`;
  return row;
}

/**
 * The password hash by which somebody signs in now, or null where they can't; it stays so until the transaction ends. A session that is
 * opened without this lock could outlive a password that is changed, or a removal, at the same moment.
 */
export async function lockPasswordHash(tx: Transaction, id: string): Promise<string | null> {
  const [row] = await tx.$queryRaw<{ hash: string | null }[]>`
    SELECT password_hash AS hash FROM staff_member WHERE id = ${id}::uuid AND removed_at IS NULL FOR SHARE`;
  return row?.hash ?? null;
}
