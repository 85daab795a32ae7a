import { withClient } from '../../src/database/client.js';
import { findBrokenRules } from '../invariants.js';

/** What "wareboard check" says once this has been done past all triggers; nothing of it is kept. */
export function faultsAfter(url: string, sql: string): Promise<string> {
  return withClient(url, async (client) => {
    await client.query('BEGIN');
    await client.query(`SET LOCAL session_replication_role = 'replica'`);
    await client.query(sql);
    const db = { $queryRawUnsafe: async (text: string) => (await client.query(text)).rows };
    const faults = await findBrokenRules(db as never);
    await client.query('ROLLBACK');
    return faults.join('\n');
  });
}
