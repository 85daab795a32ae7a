import type { Config } from '../config.js';
import { openLog } from './log.js';
import { openDatabaseAndMigrate } from './open-database.js';

/** Brings the database's tables up to date; other commands do so by themselves. */
export async function migrateStudio(config: Config): Promise<void> {
  const database = await openDatabaseAndMigrate(config, openLog({ logLevel: 'warn' }));
  await database.close();
  const { length } = database.migrated;
  console.log(length === 0 ? 'The tables were up to date.' : `Applied ${length}: ${database.migrated.join(', ')}.`);
}
