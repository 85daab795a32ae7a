import type { Config } from '../config.js';
import { openDataFolder } from './data-folder.js';
import { waitForStopSignal } from './listen.js';
import { openLog } from './log.js';
import { openDatabaseAndMigrate } from './open-database.js';
import { whileReading } from './while-reading.js';

/** The halves of the program, which may run in processes of their own. */
export type Half = 'api' | 'worker';

/**
 * Serves a real studio until it is asked to stop; then requests drain, jobs finish, and the database closes last.
 * @param only one half: the API with the desk, or the worker, which delivers letters and has no address
 */
export async function serve(config: Config, { only }: { only?: Half } = {}): Promise<void> {
  const log = openLog(config);
  if (only !== 'api') await openDataFolder(config.dataFolder); // the worker's letters and sign of life lie there
  const [database, halves] = await whileReading(openDatabaseAndMigrate(config, log), () => import('./halves.js'));
  const { openApi, openWorker, sayWelcome, SampleBeside, ThreadRenderer } = halves;
  const renderer = new ThreadRenderer();
  try {
    const sample = only ? undefined : new SampleBeside(config, database, renderer, log);
    const api = only === 'worker' ? undefined : await openApi(config, database, renderer, log, sample);
    try {
      const worker = only === 'api' ? undefined : await openWorker(config, database, renderer, log);
      if (api) await sayWelcome(database, api.address);
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
