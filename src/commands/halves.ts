import { writeFile } from 'node:fs/promises';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import type { Logger } from 'pino';
import type { Config } from '../config.js';
import { inTransaction } from '../database/transaction.js';
import type { Renderer } from '../documents/renderer.js';
import { buildApp } from '../server/app.js';
import { newSetUpToken } from '../studio/staff/service.js';
import { type RunningWorker, startWorker } from '../worker/worker.js';
import { RHYTHM } from '../worker/worker-lease.js';
import { readCertificate } from './certificate.js';
import { listen } from './listen.js';
import { mailDeliveryFrom } from './mail-delivery.js';
import type { OpenedDatabase } from './open-database.js';
import { SampleBeside } from './sample-studio.js';

// What serves: the greater part of the program's code, read while PostgreSQL starts.

export { ThreadRenderer } from '../documents/thread-renderer.js';
export { SampleBeside };

const now = () => new Date();

export async function openApi(
  config: Config,
  database: OpenedDatabase,
  renderer: Renderer,
  log: Logger,
  sample: SampleBeside | undefined,
) {
  const { trustProxy, plainHttp, baseUrl } = config;
  const tls = readCertificate(config);
  const app = await buildApp({
    db: database.db,
    now,
    renderer,
    logger: log,
    trustProxy,
    plainHttp,
    baseUrl,
    tls,
    sampleStudio: sample,
  });
  try {
    const address = await listen(app, config);
    sample?.servedBeside((app.server.address() as AddressInfo).port);
    return { address, close: () => app.close() };
  } catch (error) {
    await app.close();
    throw error;
  }
}

/** The worker, with a file `worker-alive` in the data folder whose time is at most two minutes ago while all is well. */
export async function openWorker(
  config: Config,
  database: OpenedDatabase,
  renderer: Renderer,
  log: Logger,
): Promise<RunningWorker> {
  const sign = join(config.dataFolder, 'worker-alive');
  const alive = () => {
    writeFile(sign, `${now().toISOString()}\n`).catch((error) => log.warn({ err: error }, `${sign} can't be written`));
  };
  const post = { ...mailDeliveryFrom(config, database.db, now), renderer };
  return startWorker(database.databaseUrl, post, log, { ...RHYTHM, alive });
}

export async function sayWelcome({ db }: OpenedDatabase, address: string): Promise<void> {
  console.log(`Wareboard is at ${address}`);
  const token = await inTransaction(db, (tx) => newSetUpToken(tx, now()));
  if (token) console.log(`Nobody can sign in yet. Set the studio up here, within a day: ${address}/set-up#${token}`);
}
