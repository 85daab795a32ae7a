import type { Transaction } from '../../database/transaction.js';

/**
 * Queues the delivery of a notice in the transaction that writes it: both commit, or neither. The job key makes it one job,
 * however often it is asked for.
 */
export async function queueDelivery(tx: Transaction, noticeId: string): Promise<void> {
  await tx.$executeRaw`
    SELECT 1 FROM graphile_worker.add_job('deliver-notice', json_build_object('noticeId', ${noticeId}::text),
      job_key := ${`deliver-${noticeId}`}, max_attempts := 12)`;
}
