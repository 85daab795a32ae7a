import { inject } from 'vitest';
import { loadDemo } from '../../src/commands/demo/load.js';
import { openDatabase, withClient } from '../../src/database/client.js';
import { makeDatabase } from './database.js';
import { named } from './server.js';

/** The day on which the seeds were written: nothing of them is moved. */
export const SEEDED = '2026-03-10T09:00:00Z';

const LOADING_LOCK = 20_260_310;

/**
 * A database of one's own with the invented studio as it is on its first morning. Loading it takes a while, so the first test file
 * that asks for it loads it for all that share the server; the others get a copy. It is dropped when the file is done.
 */
export async function cloneDemo(): Promise<string> {
  const { url, template } = inject('testServer');
  const demo = `${template}_demo`;
  await withClient(url, async (client) => {
    await client.query('SELECT pg_advisory_lock($1)', [LOADING_LOCK]); // let go when the connection closes
    const { rowCount } = await client.query('SELECT FROM pg_database WHERE datname = $1', [demo]);
    if (rowCount) return;
    const loading = `${demo}_loading`; // renamed once it is whole: one that failed half-way must not serve anybody
    await client.query(`DROP DATABASE IF EXISTS ${loading} WITH (FORCE)`);
    await client.query(`CREATE DATABASE ${loading} TEMPLATE ${template}`);
    const { db, close } = await openDatabase(named(url, loading));
    await loadDemo(db, new Date(SEEDED)).finally(close);
    await client.query(`ALTER DATABASE ${loading} ALLOW_CONNECTIONS false`);
    await client.query(`ALTER DATABASE ${loading} RENAME TO ${demo}`);
  });
  return makeDatabase(`TEMPLATE ${demo}`);
}
