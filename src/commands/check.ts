import type { Config } from '../config.js';
import { findBroken } from '../database/invariant.js';
import { INVARIANTS } from '../studio/nouns.js';
import { openLog } from './log.js';
import { openDatabaseAndMigrate } from './open-database.js';

/** Looks through the whole database for what must never be, and says what it found; the process fails where it found anything. */
export async function check(config: Config): Promise<void> {
  const database = await openDatabaseAndMigrate(config, openLog({ logLevel: 'warn' }));
  try {
    const faults = await findBroken(database.db, INVARIANTS);
    if (faults.length === 0) {
      console.log('All is well: no rule is broken.');
      return;
    }
    console.log(`${faults.length} faults. Stop the server, keep a copy of the data, and look at these:`);
    for (const fault of faults) console.log(`  ${fault}`);
    process.exitCode = 1;
  } finally {
    await database.close();
  }
}
