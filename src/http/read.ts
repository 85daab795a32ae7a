import type { FastifyRequest } from 'fastify';
import { inSnapshot, type Transaction } from '../database/transaction.js';

/**
 * Answers a request that changes nothing from one picture of the database, so that figures of one answer belong together whatever is
 * written meanwhile. What takes long and asks the database nothing, such as drawing a PDF, comes after it: it holds a connection.
 */
export function read<T>({ server }: FastifyRequest, work: (tx: Transaction, now: Date) => Promise<T>): Promise<T> {
  const now = server.now();
  return inSnapshot(server.db, (tx) => work(tx, now));
}
