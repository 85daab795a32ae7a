import { createHash } from 'node:crypto';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { inTransaction, type Limit, type Transaction } from '../database/transaction.js';
import { Problem } from '../problems.js';
import { assertSeen, etagOf } from './etag.js';
import { insertRequestKey, keepAnswer } from './queries.js';

/**
 * Answers a request that changes something: key, work and stored answer commit together, so that however often it is sent it has one effect.
 * Requests of one caller with the same Idempotency-Key wait for each other on the key's row; a refused or failed attempt leaves no key and can be sent again.
 *
 * @param again for what must be kept nowhere else: its answer is not stored, and who sends it again is told what is there now
 */
export async function write<T>(
  request: FastifyRequest,
  reply: FastifyReply,
  status: number,
  work: (tx: Transaction, now: Date) => Promise<T>,
  limit: Limit = {},
  again?: (tx: Transaction) => Promise<T>,
): Promise<T> {
  const key = idempotencyKey(request);
  const caller = request.caller?.tokenId ?? request.caller?.staffMemberId ?? 'nobody';
  const fingerprint = createHash('sha256')
    .update(JSON.stringify([request.method, request.url, request.body], withoutSecrets))
    .digest('hex');

  const answer = await inTransaction(
    request.server.db,
    async (tx) => {
      const now = request.server.now();
      if (!(await insertRequestKey(tx, { caller, key, fingerprint, createdAt: now }))) {
        const earlier = await tx.requestKey.findUniqueOrThrow({ where: { caller_key: { caller, key } } });
        if (earlier.fingerprint !== fingerprint)
          throw new Problem('key-reused', 'This Idempotency-Key belongs to another request. Send a fresh one.');
        return again ? again(tx) : (earlier.answer as T);
      }
      const result = await work(tx, now);
      if (result !== undefined && !again) await keepAnswer(tx, { caller, key }, result);
      return result;
    },
    limit,
  );
  reply.code(status);
  return answer;
}

/**
 * Answers a request that replaces what a person has read before: as write(), and only where If-Match says that it is still as they
 * read it. A request that is sent again gets its first answer again, whatever has become of it since.
 * @param current locks what is replaced until the transaction ends, and then reads it as its address shows it; null: nothing is there.
 *   Read before it is locked, two edits at once would both see what they expect, and one be lost.
 */
export function edit<T>(
  request: FastifyRequest,
  reply: FastifyReply,
  current: (tx: Transaction, now: Date) => Promise<T | null>,
  work: (tx: Transaction, now: Date) => Promise<T>,
  again?: (tx: Transaction) => Promise<T>,
): Promise<T> {
  const seeAndWork = async (tx: Transaction, now: Date) => {
    const seen = await current(tx, now);
    assertSeen(request.headers, seen === null ? null : etagOf(seen));
    return work(tx, now);
  };
  return write(request, reply, 200, seeAndWork, {}, again);
}

/** A fast hash of a password, kept beside a slow one, would let a thief guess at the fast one; so would one of a short note on health. */
const withoutSecrets = (name: string, value: unknown) => (/password$|^careNote$/i.test(name) ? undefined : value);

/** The key with or without the quotes that the header's structured syntax asks for. */
function idempotencyKey(request: FastifyRequest): string {
  const header = request.headers['idempotency-key'];
  const key = typeof header === 'string' ? header.replace(/^"(.*)"$/, '$1') : '';
  if (key.length < 8 || key.length > 255)
    throw new Problem('key-required', 'Send a fresh Idempotency-Key, a UUID in quotes, with each new request.');
  return key;
}
