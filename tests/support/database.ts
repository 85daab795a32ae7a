import { randomBytes } from 'node:crypto';
import { afterAll, afterEach, inject } from 'vitest';
import { openDatabase, withClient } from '../../src/database/client.js';
import type { Database } from '../../src/database/transaction.js';
import { named } from './server.js';

type Check = (db: Database) => Promise<void>;

/** From here on a limit is the program's own for requests: a test that sets one of its own says less. */
const REQUEST_MILLISECONDS = 10_000;
const HANGS_AFTER_MILLISECONDS = 600_000;

const checks: Check[] = [];
const made: string[] = [];

// Said here and not where a database is made: within a test, vitest hears no afterAll. It comes after the clients are closed.
afterAll(async () => {
  if (made.length === 0) return;
  await withClient(inject('testServer').url, async (client) => {
    for (const name of made) await client.query(`DROP DATABASE ${name} WITH (FORCE)`);
  });
});

/** Has this looked at in every test database after each test of this file: what must always hold, whatever a test did. */
export function afterEachTest(check: Check): void {
  checks.push(check);
}

/**
 * A migrated database for this test file alone, empty unless `clone` gives another; it is dropped when the file is done. Call it at
 * the top of a file: `const { db, url } = await testDatabase()`.
 */
export async function testDatabase({ max = 20, clone = cloneTemplate } = {}): Promise<{ db: Database; url: string }> {
  const url = await clone();
  const { db, close } = await openDatabase(url, { max });
  beUnhurried(db);
  afterEach(async () => {
    for (const check of checks) await check(db);
  });
  afterAll(close);
  return { db, url };
}

/** A request that takes ten seconds is given up. On a machine that others load, that would say nothing of the program. */
function beUnhurried(db: Database): void {
  type Limits = { timeout?: number; maxWait?: number };
  const transaction = db.$transaction.bind(db) as (work: never, limits?: Limits) => Promise<never>;
  const unhurried = (work: never, limits: Limits = {}) => {
    const isRequest = (limits.timeout ?? 0) >= REQUEST_MILLISECONDS;
    const more = { timeout: HANGS_AFTER_MILLISECONDS, maxWait: HANGS_AFTER_MILLISECONDS };
    return transaction(work, isRequest ? { ...limits, ...more } : limits);
  };
  Object.assign(db, { $transaction: unhurried });
}

/** A migrated, empty database of one's own, without a client. It is dropped when the file is done. */
export async function cloneTemplate(): Promise<string> {
  return makeDatabase(`TEMPLATE ${inject('testServer').template}`);
}

/** A database made as `how` says, such as `ENCODING 'LATIN1' TEMPLATE template0`. It is dropped when the file is done. */
export async function makeDatabase(how = 'TEMPLATE template0'): Promise<string> {
  const { url, template } = inject('testServer');
  const name = `${template}_${randomBytes(4).toString('hex')}`; // begins like the template, so that the run's end finds it
  await withClient(url, (client) => client.query(`CREATE DATABASE ${name} ${how}`));
  made.push(name);
  return named(url, name);
}
