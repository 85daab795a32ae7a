import type { Config } from '../config.js';
import { inTransaction } from '../database/transaction.js';
import { buildApp } from '../server/app.js';
import { newSetUpToken } from '../studio/staff/service.js';
import { startWorker } from '../worker/worker.js';
import { openHouse, postOf } from './house.js';
import { listen, untilAskedToStop } from './listen.js';
import { openLog } from './log.js';

/** Serves a real studio until it is asked to stop; then requests drain, jobs finish, and the database closes last. */
export async function serve(config: Config): Promise<void> {
  const log = openLog(config);
  const now = () => new Date();
  const house = await openHouse(config, log);
  try {
    const app = await buildApp({ db: house.db, now, logger: log, trustProxy: config.trustProxy });
    try {
      const address = await listen(app, config);
      const worker = await startWorker(house.databaseUrl, postOf(config, house.db, now), log);
      console.log(`Wareboard is at ${address}`);
      const token = await inTransaction(house.db, (tx) => newSetUpToken(tx, now()));
      if (token)
        console.log(`Nobody can sign in yet. Set the studio up here, within a day: ${address}/set-up#${token}`);
      await untilAskedToStop();
      console.log('Stopping: requests and letters under way are finished first.');
      await app.close();
      await worker.stop();
    } finally {
      await app.close();
    }
  } finally {
    await house.close();
  }
}
