import { existsSync } from 'node:fs';
import { rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { CannotStart, type Config } from '../config.js';
import { eraseEmbedded } from '../database/embedded/server.js';
import { problemFor } from '../database/sqlstate.js';
import type { ProblemType } from '../problems.js';
import { openDataFolder } from './data-folder.js';
import { openLog } from './log.js';
import { openDatabaseAndMigrate } from './open-database.js';
import { whileReading } from './while-reading.js';

/** Stands in the data folder once the whole year is loaded. Without it, what is there is what a broken loading left behind. */
const LOADED = 'loaded';

const GAVE_OUT = new Set<string>(['database-busy', 'database-away'] satisfies ProblemType[]);

/**
 * Shows the whole job on an invented studio: loads it unless it is there whole, serves it, prints the report and writes the papers. The
 * desk answers as soon as the year is loaded, while the papers are still being written.
 */
export async function demo(
  config: Config,
  { once = false, fresh = false }: { once?: boolean; fresh?: boolean },
  now: () => Date = () => new Date(),
): Promise<void> {
  await openDataFolder(config.dataFolder);
  const folder = join(config.dataFolder, 'documents');
  const loaded = join(config.dataFolder, LOADED);
  if (fresh || !existsSync(loaded)) await forget(config, folder, loaded);
  const opening = openDatabaseAndMigrate(config, openLog({ logLevel: 'warn' }));
  const [database, { loadDemo, Show }] = await whileReading(opening, () => import('./demo/show.js'));
  const show = new Show(database, now, folder);
  try {
    if (!existsSync(loaded)) await loadWhole(() => loadDemo(database.db, now()), loaded);
    if (once) await show.theJob();
    else await show.serve(config);
  } finally {
    await show.close();
    await database.close();
  }
}

/** @throws CannotStart where the machine or the database gives out on the way; the next start begins anew */
async function loadWhole(load: () => Promise<void>, loaded: string): Promise<void> {
  console.error('Loading a year of an invented studio. This takes some ten seconds.');
  try {
    await load();
  } catch (error) {
    if (!GAVE_OUT.has(problemFor(error)?.type ?? '')) throw error;
    throw new CannotStart(
      'The invented studio could not be loaded: the database took too long, or could not be reached. Start the demo again; it begins from the start.',
    );
  }
  await writeFile(loaded, 'The invented studio is loaded in full. Without this file the demo loads it again.\n');
}

/** The mark goes first: whatever breaks on the way, what is left is not taken for whole. */
async function forget(config: Config, folder: string, loaded: string): Promise<void> {
  await rm(loaded, { force: true });
  await eraseEmbedded(join(config.dataFolder, 'database'), () => undefined);
  await rm(folder, { recursive: true, force: true });
}
