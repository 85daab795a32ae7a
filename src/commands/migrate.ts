import type { Config } from '../config.js';
import { openLog } from './log.js';
import { openHouse } from './open-database.js';

/** Brings the database's tables up to date; other commands do so by themselves. */
export async function migrateHouse(config: Config): Promise<void> {
  const house = await openHouse(config, openLog({ logLevel: 'warn' }));
  await house.close();
  const { length } = house.migrated;
  console.log(length === 0 ? 'The tables were up to date.' : `Applied ${length}: ${house.migrated.join(', ')}.`);
}
