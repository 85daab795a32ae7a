import type { Config } from '../config.js';
import { type BrokenRule, findBrokenIn } from '../database/invariant.js';
import { INVARIANTS } from '../studio/nouns.js';
import { openLog } from './log.js';
import { openDatabaseAndMigrate } from './open-database.js';

/** Looks through the whole database for what must never be, and says what it found; the process fails where it found anything. */
export async function check(config: Config): Promise<void> {
  const database = await openDatabaseAndMigrate(config, openLog({ logLevel: 'warn' }));
  try {
    await checkDatabase(database.databaseUrl, 'Stop the server, keep a copy of the data, and look at these:');
  } finally {
    await database.close();
  }
}

/**
 * Looks through all books as they are at one moment, for as long as it takes, and says what breaks which rule; the process fails where
 * anything does.
 * @param then what to do, after how many faults there are
 */
export async function checkDatabase(databaseUrl: string, then: string): Promise<void> {
  const broken = await findBrokenIn(databaseUrl, INVARIANTS, showProgress).finally(endProgress);
  if (broken.length === 0) return console.log('All is well: no rule is broken.');
  const count = broken.reduce((sum, rule) => sum + rule.count, 0);
  console.log(`${count === 1 ? '1 fault' : `${count} faults`}. ${then}`);
  for (const line of broken.flatMap(linesOf)) console.log(`  ${line}`);
  process.exitCode = 1;
}

function linesOf({ name, count, faults }: BrokenRule): string[] {
  const more = count - faults.length;
  return [...faults.map((fault) => `${name}: ${fault}`), ...(more > 0 ? [`${name}: and ${more} more like these`] : [])];
}

const showProgress = (rule: number) => {
  if (process.stderr.isTTY) process.stderr.write(`\rLooking at rule ${rule} of ${INVARIANTS.length} `);
};
const endProgress = () => {
  if (process.stderr.isTTY) process.stderr.write('\r\x1b[K');
};
