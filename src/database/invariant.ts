import { withClient } from './client.js';

/** What must hold of every studio's database at any moment, whatever was done at once or killed half-way. */
export interface Invariant {
  name: string;
  /** Finds what breaks it, and says so in one column, `fault`. */
  sql: string;
}

/** One rule that is broken: how often, and the first of what breaks it, a sentence each. */
export type BrokenRule = { name: string; count: number; faults: string[] };

type Query = (sql: string) => Promise<{ fault: string; count: number }[]>;

const FAULTS_NAMED_MAX = 20;

/**
 * Looks for what breaks these, one rule after the other.
 * @param query        asks the database
 * @param startChecking hears of each rule before it is looked at, from 1
 * @returns the broken ones; empty where all is well
 */
export async function findBroken(
  query: Query,
  invariants: readonly Invariant[],
  startChecking: (rule: number) => void = () => undefined,
): Promise<BrokenRule[]> {
  const broken: BrokenRule[] = [];
  for (const [i, { name, sql }] of invariants.entries()) {
    startChecking(i + 1);
    const rows = await query(
      `SELECT fault, (count(*) OVER ())::integer AS count FROM (${sql}) AS rule LIMIT ${FAULTS_NAMED_MAX}`,
    );
    if (rows[0]) broken.push({ name, count: rows[0].count, faults: rows.map(({ fault }) => fault) });
  }
  return broken;
}

/** The same of all books as they are at one moment, for as long as it takes. */
export function findBrokenIn(
  databaseUrl: string,
  invariants: readonly Invariant[],
  startChecking: (rule: number) => void,
): Promise<BrokenRule[]> {
  return withClient(databaseUrl, async (client) => {
    await client.query(`BEGIN ISOLATION LEVEL REPEATABLE READ, READ ONLY; SET LOCAL work_mem = '64MB'`);
    return findBroken(async (sql) => (await client.query(sql)).rows, invariants, startChecking);
  });
}
