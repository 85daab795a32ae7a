import { findBrokenRules as askRuleByRule } from '../src/database/rules.js';
import type { Transaction } from '../src/database/transaction.js';

/** The query of every rule, in the order in which they are asked. */
const queries: string[] = [];
const listening = {
  $queryRawUnsafe: async (sql: string) => {
    queries.push(sql);
    return [];
  },
};
await askRuleByRule(listening as never);

/** All of them in one: after each test, sixty short queries would take longer than most tests. */
const ALL = queries.map((sql) => `SELECT 1 AS broken FROM (${sql}) AS rule`).join('\nUNION ALL\n');

/** What is broken of the rules that always hold. */
export async function findBrokenRules(db: Transaction): Promise<string[]> {
  const broken = await db.$queryRawUnsafe<unknown[]>(ALL);
  return broken.length === 0 ? [] : askRuleByRule(db);
}
