import type { Transaction } from './transaction.js';

/** What only one transaction may be doing at a time, in the words by which the database knows it. */
type Work =
  | 'bringing a list'
  | 'numbering batches'
  | 'numbering firings'
  | 'numbering orders'
  | 'numbering pieces'
  | 'numbering tiles'
  | 'replacing the logo';

/**
 * Keeps all others that do the same waiting until this transaction ends; rows that are not there yet can't be locked. Take it
 * as late as the work allows: whoever holds it makes everybody wait for whatever they wait for themselves.
 */
export async function oneAtATime(tx: Transaction, work: Work): Promise<void> {
  await tx.$executeRaw`SELECT pg_advisory_xact_lock(hashtextextended(${work}, 0))`;
}

/** Keeps those waiting who would do it, until this transaction ends; others of its kind are let in. */
export async function withExclusiveLock(tx: Transaction, work: Work): Promise<void> {
  await tx.$executeRaw`SELECT pg_advisory_xact_lock_shared(hashtextextended(${work}, 0))`;
}
