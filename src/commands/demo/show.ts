import { relative } from 'node:path';
import type { Config } from '../../config.js';
import { ThreadRenderer } from '../../documents/thread-renderer.js';
import { outboxFolder } from '../../mail/outbox-folder.js';
import type { Post } from '../../mail/post.js';
import { buildApp } from '../../server/app.js';
import { startWorker, workOnce } from '../../worker/worker.js';
import { listen, waitForStopSignal } from '../listen.js';
import { openLog } from '../log.js';
import type { OpenedDatabase } from '../open-database.js';
import { countLetters, writePapers } from './documents.js';
import { papersSection } from './report/documents.js';
import { report } from './report/report.js';

export { loadDemo } from './load.js';

/** What is done with the invented studio once it is loaded. */
export class Show {
  private readonly log = openLog({ logLevel: 'warn' });
  private readonly renderer = new ThreadRenderer();
  private readonly post: Post & { renderer: ThreadRenderer };

  constructor(
    private readonly database: OpenedDatabase,
    now: () => Date,
    private readonly folder: string,
  ) {
    const transport = outboxFolder(folder);
    this.post = { db: database.db, now, transport, writesFiles: true, from: undefined, renderer: this.renderer };
  }

  /** Delivers the letters of the last days, prints the report, and writes the papers. */
  async theJob(): Promise<void> {
    const { database, post, folder } = this;
    await workOnce(database.databaseUrl, post, this.log);
    const sections = await report(database.db, post.now());
    const papers = await writePapers(post, folder);
    const written = papersSection(papers, await countLetters(folder), relative('.', folder) || folder);
    console.log(`\n${[...sections, written].join('\n\n\n')}\n`);
  }

  /** Serves it until it is asked to stop, the job done meanwhile. */
  async serve(config: Config): Promise<void> {
    const { db, now } = this.post;
    const app = await buildApp({
      ...{ db, now, renderer: this.renderer, logger: this.log, trustProxy: config.trustProxy },
      sampleOf: { ownStudio: () => null },
    });
    try {
      const address = await listen(app, config);
      const stopped = waitForStopSignal(); // whoever asks during the report waits for its end, so that all is closed in order
      console.log(`The desk is open at ${address} while the report and the papers are written.`);
      await this.theJob();
      const worker = await startWorker(this.database.databaseUrl, this.post, this.log);
      console.log(
        'This is the sample studio. It keeps to its own folder and sends no letters; npm start serves your own.',
      );
      console.log(`The desk is at ${address}`);
      console.log('Sign in as mara@alderlane.example with the password "alder lane demo". Ctrl-C stops it.');
      await stopped;
      await app.close();
      await worker.stop();
    } finally {
      await app.close();
    }
  }

  async close(): Promise<void> {
    await this.renderer.close();
  }
}
