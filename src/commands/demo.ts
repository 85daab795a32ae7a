import { existsSync } from 'node:fs';
import { rm, writeFile } from 'node:fs/promises';
import { join, relative } from 'node:path';
import { CannotStart, type Config } from '../config.js';
import { eraseEmbedded } from '../database/embedded/server.js';
import { problemFor } from '../database/sqlstate.js';
import type { Database } from '../database/transaction.js';
import { ThreadRenderer } from '../documents/thread-renderer.js';
import { outboxFolder } from '../mail/outbox-folder.js';
import type { Post } from '../mail/post.js';
import type { ProblemType } from '../problems.js';
import { buildApp } from '../server/app.js';
import { startWorker, workOnce } from '../worker/worker.js';
import { openDataFolder } from './data-folder.js';
import { countLetters, writePapers } from './demo/documents.js';
import { loadDemo } from './demo/load.js';
import { papersSection } from './demo/report/documents.js';
import { report } from './demo/report/report.js';
import { listen, waitForStopSignal } from './listen.js';
import { openLog } from './log.js';
import { type OpenedDatabase, openDatabaseAndMigrate } from './open-database.js';

const QUIET = { logLevel: 'warn' } as const;

/** Stands in the data folder once the whole year is loaded. Without it, what is there is what a broken loading left behind. */
const LOADED = 'loaded';

const GAVE_OUT = new Set<string>(['database-busy', 'database-away'] satisfies ProblemType[]);

/** Shows the whole job on an invented studio: loads it unless it is there whole, prints the report, writes the papers, and serves it. */
export async function demo(
  config: Config,
  { once = false, fresh = false }: { once?: boolean; fresh?: boolean },
  now: () => Date = () => new Date(),
): Promise<void> {
  const log = openLog(QUIET);
  await openDataFolder(config.dataFolder);
  const folder = join(config.dataFolder, 'documents');
  const loaded = join(config.dataFolder, LOADED);
  if (fresh || !existsSync(loaded)) await forget(config, folder, loaded);
  const database = await openDatabaseAndMigrate(config, log);
  const renderer = new ThreadRenderer();
  try {
    if (!existsSync(loaded)) await loadWhole(database.db, now(), loaded);
    const transport = outboxFolder(folder);
    const post: Post = { db: database.db, now, transport, writesFiles: true, from: undefined, renderer };
    await showTheJob(database, post, folder);
    if (!once) await serveDemo(config, database, post);
  } finally {
    await renderer.close();
    await database.close();
  }
}

/** @throws CannotStart where the machine or the database gives out on the way; the next start begins anew */
async function loadWhole(db: Database, now: Date, loaded: string): Promise<void> {
  console.error('Loading a year of an invented studio. This takes about half a minute.');
  try {
    await loadDemo(db, now);
  } catch (error) {
    if (!GAVE_OUT.has(problemFor(error)?.type ?? '')) throw error;
    throw new CannotStart(
      'The invented studio could not be loaded: the database took too long, or could not be reached. Start the demo again; it begins from the start.',
    );
  }
  await writeFile(loaded, 'The invented studio is loaded in full. Without this file the demo loads it again.\n');
}

async function showTheJob({ db, databaseUrl }: OpenedDatabase, post: Post, folder: string): Promise<void> {
  await workOnce(databaseUrl, post, openLog(QUIET));
  const sections = await report(db, post.now());
  const papers = await writePapers(post, folder);
  const written = papersSection(papers, await countLetters(folder), relative('.', folder) || folder);
  console.log(`\n${[...sections, written].join('\n\n\n')}\n`);
}

async function serveDemo(config: Config, database: OpenedDatabase, post: Post): Promise<void> {
  const { now, renderer } = post;
  const log = openLog(QUIET);
  const app = await buildApp({
    ...{ db: database.db, now, renderer, logger: log, trustProxy: config.trustProxy },
    sampleOf: { ownStudio: () => null },
  });
  try {
    const address = await listen(app, config);
    const worker = await startWorker(database.databaseUrl, post, log);
    console.log(
      'This is the sample studio. It keeps to its own folder and sends no letters; npm start serves your own.',
    );
    console.log(`The desk is at ${address}`);
    console.log('Sign in as mara@alderlane.example with the password "alder lane demo". Ctrl-C stops it.');
    await waitForStopSignal();
    await app.close();
    await worker.stop();
  } finally {
    await app.close();
  }
}

/** The mark goes first: whatever breaks on the way, what is left is not taken for whole. */
async function forget(config: Config, folder: string, loaded: string): Promise<void> {
  await rm(loaded, { force: true });
  await eraseEmbedded(join(config.dataFolder, 'database'), () => undefined);
  await rm(folder, { recursive: true, force: true });
}
