import type { Transaction } from './transaction.js';

/** What must hold of every studio's database at any moment, whatever was done at once or killed half-way. */
export interface Invariant {
  name: string;
  /** Finds what breaks it, and says so in one column, `fault`. */
  sql: string;
}

/** Looks through the whole database for what breaks these. @returns one sentence per fault; empty where all is well */
export async function findBroken(db: Transaction, invariants: readonly Invariant[]): Promise<string[]> {
  const faults: string[] = [];
  for (const { name, sql } of invariants) {
    const rows = await db.$queryRawUnsafe<{ fault: string }[]>(sql);
    faults.push(...rows.map(({ fault }) => `${name}: ${fault}`));
  }
  return faults;
}
