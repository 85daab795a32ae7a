import type { Transaction } from '../database/transaction.js';

// Every request that changes something keeps its key before its work and its answer after it.

export type RequestKey = { caller: string; key: string };

/** Keeps a key, once whoever came with the same one has ended. @returns false where it is known */
export async function insertRequestKey(
  tx: Transaction,
  { caller, key, fingerprint, createdAt }: RequestKey & { fingerprint: string; createdAt: Date },
): Promise<boolean> {
  const inserted = await tx.$executeRaw`
    INSERT INTO request_key (caller, key, fingerprint, created_at) VALUES (${caller}, ${key}, ${fingerprint}, ${createdAt})
    ON CONFLICT DO NOTHING`;
  return inserted > 0;
}

/** Keeps what a request was answered, for whoever sends it again. */
export async function keepAnswer(tx: Transaction, { caller, key }: RequestKey, answer: unknown): Promise<void> {
  await tx.$executeRaw`
    UPDATE request_key SET answer = ${JSON.stringify(answer)}::jsonb WHERE caller = ${caller} AND key = ${key}`;
}
