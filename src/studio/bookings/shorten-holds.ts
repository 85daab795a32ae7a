import type { Transaction } from '../../database/transaction.js';
import type { Course } from '../courses/contract.js';
import { endHoldsBy } from './queries.js';

/**
 * Ends holds with the beginning of their course, where it now begins before they run out: none outlasts it.
 *
 * @returns until when each booking is held now, by its id; only those that were shortened
 */
export async function shortenHolds(tx: Transaction, { id, sessions }: Course): Promise<Map<string, string>> {
  const begins = sessions[0]?.startsAt;
  if (begins === undefined) return new Map();
  return new Map((await endHoldsBy(tx, id, new Date(begins))).map((bookingId) => [bookingId, begins]));
}
