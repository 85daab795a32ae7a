import { rm } from 'node:fs/promises';
import { join, relative } from 'node:path';
import type { Config } from '../config.js';
import { eraseEmbedded } from '../database/embedded/server.js';
import { outboxFolder } from '../mail/outbox-folder.js';
import { buildApp } from '../server/app.js';
import type { Post } from '../studio/notices/jobs.js';
import { startWorker, workOnce } from '../worker/worker.js';
import { openDataFolder } from './data-folder.js';
import { loadDemo } from './demo/load.js';
import { countLetters, writePapers } from './demo/papers.js';
import { papersSection } from './demo/report/papers.js';
import { report } from './demo/report/report.js';
import { type House, openHouse } from './house.js';
import { listen, untilAskedToStop } from './listen.js';
import { openLog } from './log.js';

const QUIET = { logLevel: 'warn' } as const;

/** Shows the whole job on an invented studio: loads it where nothing is there yet, prints the report, writes the papers, and serves it. */
export async function demo(
  config: Config,
  { once = false, fresh = false }: { once?: boolean; fresh?: boolean },
  now: () => Date = () => new Date(),
): Promise<void> {
  const log = openLog(QUIET);
  await openDataFolder(config.dataFolder);
  const folder = join(config.dataFolder, 'documents');
  if (fresh) await forget(config, folder);
  const house = await openHouse(config, log);
  try {
    const transport = outboxFolder(folder);
    const post: Post = { db: house.db, now, transport, writesFiles: true, from: undefined };
    await showTheJob(house, post, folder);
    if (!once) await serveDemo(config, house, post);
  } finally {
    await house.close();
  }
}

async function showTheJob({ db, databaseUrl }: House, post: Post, folder: string): Promise<void> {
  if ((await db.studio.count()) === 0) await loadDemo(db, post.now());
  await workOnce(databaseUrl, post, openLog(QUIET));
  const sections = await report(db, post.now());
  const papers = await writePapers(db, post.now(), folder);
  const written = papersSection(papers, await countLetters(folder), relative('.', folder) || folder);
  console.log(`\n${[...sections, written].join('\n\n\n')}\n`);
}

async function serveDemo(config: Config, house: House, post: Post): Promise<void> {
  const log = openLog(QUIET);
  const app = await buildApp({ db: house.db, now: post.now, logger: log, trustProxy: config.trustProxy });
  try {
    const address = await listen(app, config);
    const worker = await startWorker(house.databaseUrl, post, log);
    console.log(`The desk is at ${address}`);
    console.log('Sign in as mara@alderlane.example with the password "alder lane demo". Ctrl-C stops it.');
    await untilAskedToStop();
    await app.close();
    await worker.stop();
  } finally {
    await app.close();
  }
}

async function forget(config: Config, folder: string): Promise<void> {
  await eraseEmbedded(join(config.dataFolder, 'database'), () => undefined);
  await rm(folder, { recursive: true, force: true });
}
