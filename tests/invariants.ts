import { findBroken } from '../src/database/invariant.js';
import type { Transaction } from '../src/database/transaction.js';
import { INVARIANTS } from '../src/studio/nouns.js';

/** All of them in one: after each test, so many short queries would take longer than most tests. */
const ALL = INVARIANTS.map(({ sql }) => `SELECT 1 AS broken FROM (${sql}) AS rule`).join('\nUNION ALL\n');

/** What is broken of the rules that always hold. */
export async function findBrokenRules(db: Transaction): Promise<string[]> {
  const broken = await db.$queryRawUnsafe<unknown[]>(ALL);
  if (broken.length === 0) return [];
  const rules = await findBroken((sql) => db.$queryRawUnsafe(sql), INVARIANTS);
  return rules.flatMap(({ name, faults }) => faults.map((fault) => `${name}: ${fault}`));
}
