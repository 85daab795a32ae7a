import type { Database } from '../database/transaction.js';

/** So long a request can be sent again under its Idempotency-Key; the answers kept for that name people, and are not kept for ever. */
const KEPT_HOURS = 48;

/** @returns how many were forgotten */
export async function purgeIdempotencyKeys(db: Database, now: Date): Promise<number> {
  const before = new Date(now.getTime() - KEPT_HOURS * 3_600_000);
  const { count } = await db.requestKey.deleteMany({ where: { createdAt: { lt: before } } });
  return count;
}

/** For the worker's task list. */
export const keyTasks = (db: Database, clock: () => Date) => ({
  'forget-keys': async () => {
    await purgeIdempotencyKeys(db, clock());
  },
});

/** For the worker's crontab: each night. */
export const keyCron = [{ task: 'forget-keys', match: '17 3 * * *', identifier: 'forget-keys' }];
