import { setTimeout as sleep } from 'node:timers/promises';
import type { Prisma, PrismaClient } from './generated/client.js';
import { sqlState } from './sqlstate.js';

export type Database = PrismaClient;
export type Transaction = Prisma.TransactionClient;

const RETRIED = new Set(['40001', '40P01']); // serialization failure, deadlock: nothing was kept, and a second try may pass
const ATTEMPTS_MAX = 5;
const PAUSE_MILLISECONDS = 5;

/**
 * Runs `work` in one transaction, and the whole of it again when the database asks for that, also at COMMIT. So `work` may run
 * several times and must have no effect outside the transaction; nothing in it may wait for mail, HTTP or a PDF.
 */
export async function inTransaction<T>(db: Database, work: (tx: Transaction) => Promise<T>): Promise<T> {
  for (let attempt = 1; ; attempt++) {
    try {
      return await db.$transaction(work, { maxWait: 10_000, timeout: 10_000 });
    } catch (error) {
      if (attempt === ATTEMPTS_MAX || !RETRIED.has(sqlState(error) ?? '')) throw error;
      // a pause of random length, longer each time, lets those who collided pass one after the other
      await sleep(2 ** attempt * PAUSE_MILLISECONDS * Math.random());
    }
  }
}
