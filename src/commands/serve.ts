import { writeFile } from 'node:fs/promises';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import type { Logger } from 'pino';
import type { Config } from '../config.js';
import { inTransaction } from '../database/transaction.js';
import type { Renderer } from '../documents/renderer.js';
import { ThreadRenderer } from '../documents/thread-renderer.js';
import { buildApp } from '../server/app.js';
import { newSetUpToken } from '../studio/staff/service.js';
import { type RunningWorker, startWorker } from '../worker/worker.js';
import { RHYTHM } from '../worker/worker-lease.js';
import { readCertificate } from './certificate.js';
import { openDataFolder } from './data-folder.js';
import { listen, waitForStopSignal } from './listen.js';
import { openLog } from './log.js';
import { mailDeliveryFrom, type OpenedDatabase, openDatabaseAndMigrate } from './open-database.js';
import { SampleBeside } from './sample-studio.js';

/** The halves of the program, which may run in processes of their own. */
export type Half = 'api' | 'worker';

/**
 * Serves a real studio until it is asked to stop; then requests drain, jobs finish, and the database closes last.
 * @param only one half: the API with the desk, or the worker, which delivers letters and has no address
 */
export async function serve(config: Config, { only }: { only?: Half } = {}): Promise<void> {
  const log = openLog(config);
  if (only !== 'api') await openDataFolder(config.dataFolder); // the worker's letters and sign of life lie there
  const database = await openDatabaseAndMigrate(config, log);
  const renderer = new ThreadRenderer();
  try {
    const sample = only ? undefined : new SampleBeside(config, database, renderer, log);
    const api = only === 'worker' ? undefined : await openApi(config, database, renderer, log, sample);
    try {
      const worker = only === 'api' ? undefined : await openWorker(config, database, renderer, log);
      if (api) await welcome(database, api.address);
      else console.log('Wareboard is sending queued emails.');
      await waitForStopSignal();
      console.log('Stopping once the requests and emails under way are finished.');
      await api?.close();
      await worker?.stop();
    } finally {
      await api?.close();
      await sample?.close();
    }
  } finally {
    await renderer.close();
    await database.close();
  }
}

const now = () => new Date();

async function openApi(
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
async function openWorker(
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

async function welcome({ db }: OpenedDatabase, address: string): Promise<void> {
  console.log(`Wareboard is at ${address}`);
  const token = await inTransaction(db, (tx) => newSetUpToken(tx, now()));
  if (token) console.log(`Nobody can sign in yet. Set the studio up here, within a day: ${address}/set-up#${token}`);
}
