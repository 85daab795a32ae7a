import { randomBytes } from 'node:crypto';
import { rm } from 'node:fs/promises';
import type { AddressInfo } from 'node:net';
import { join } from 'node:path';
import type { FastifyRequest } from 'fastify';
import type { Logger } from 'pino';
import { CannotStart, type Config } from '../config.js';
import { openDatabase } from '../database/client.js';
import { migrate } from '../database/migrate.js';
import {
  clearSample,
  databaseUser,
  dropSample,
  findSample,
  markSample,
  sampleName,
  sampleUrl,
  withSampleLock,
} from '../database/sample-database.js';
import type { Database } from '../database/transaction.js';
import type { Renderer } from '../documents/renderer.js';
import { isLoopback } from '../http/own-address.js';
import type { SampleStatus, SampleStudio } from '../http/sample-studio.js';
import { outboxFolder } from '../mail/outbox-folder.js';
import { Problem } from '../problems.js';
import { type App, buildApp } from '../server/app.js';
import { hashPassword } from '../studio/staff/secrets.js';
import { openSessionOfOwner } from '../studio/staff/sign-in.js';
import { startWorker } from '../worker/worker.js';
import { readCertificate } from './certificate.js';
import { loadDemo } from './demo/load.js';
import type { OpenedDatabase } from './open-database.js';

type Served = { port: number; db: Database; close(): Promise<void> };

const CONNECTIONS = 5;
const now = () => new Date();

/** A database that has too much to do is no fault of the program: they may ask again. */
function unanswered(error: unknown): never {
  if (error instanceof CannotStart) throw new Problem('database-away', 'Try again in a moment.');
  throw error;
}

/**
 * The invented studio beside a real one: in a database of its own on the same server, served on a port of its own, so that neither a
 * query nor a page can mistake one for the other. Its letters are files in a folder that goes with it (decision 31).
 */
export class SampleBeside implements SampleStudio {
  private making: Promise<void> | undefined;
  private failure: string | undefined;
  private serving: Promise<Served> | undefined;
  private ownPort = 0;
  private readonly stopping = new AbortController();

  constructor(
    private readonly config: Config,
    private readonly database: OpenedDatabase,
    private readonly renderer: Renderer,
    private readonly log: Logger,
  ) {}

  /** Where the studio itself listens, once it does. */
  servedBeside(ownPort: number): void {
    this.ownPort = ownPort;
  }

  async getStatus(): Promise<SampleStatus> {
    if (this.making) return { state: 'loading', detail: null };
    const found = await findSample(this.url).catch(unanswered);
    if (found === 'whole') return { state: 'ready', detail: null };
    await this.stopServing(); // another process may have removed it
    if (found === 'unfinished' && !(await withSampleLock(this.url, async () => undefined)))
      return { state: 'loading', detail: null }; // by another process
    return this.failure ? { state: 'failed', detail: this.failure } : { state: 'absent', detail: null };
  }

  async make(request: FastifyRequest): Promise<SampleStatus> {
    this.refuseOutOfReach(request);
    if (!this.making && (await this.prepare())) {
      this.failure = undefined;
      this.making ??= this.load()
        .catch((error) => this.noteFailure(error))
        .finally(() => {
          this.making = undefined;
        });
    }
    return this.getStatus();
  }

  async visit(request: FastifyRequest): Promise<{ url: string; session: string }> {
    this.refuseOutOfReach(request);
    if ((await this.getStatus()).state !== 'ready')
      throw new Problem('sample-impossible', 'The sample studio is not there. Make it first; it takes half a minute.');
    this.serving ??= this.serve().catch((error) => {
      this.serving = undefined;
      throw error;
    });
    const { db, port } = await this.serving;
    return { url: this.addressFor(request, port), session: await openSessionOfOwner(db, now()) };
  }

  async remove(): Promise<SampleStatus> {
    if (this.making)
      throw new Problem('sample-impossible', 'The sample studio is being made. Remove it once that is done.');
    await this.stopServing();
    const alone = await withSampleLock(this.url, () => dropSample(this.url));
    if (!alone)
      throw new Problem('sample-impossible', 'Another part of Wareboard is making the sample. Try again soon.');
    await rm(this.folder, { recursive: true, force: true });
    this.failure = undefined;
    return this.getStatus();
  }

  /** Ends with the studio itself: what is being made is left unfinished, and begun anew another time. */
  async close(): Promise<void> {
    this.stopping.abort();
    await this.making;
    await this.stopServing();
  }

  private get url(): string {
    return this.database.databaseUrl;
  }

  private get folder(): string {
    return join(this.config.dataFolder, 'sample');
  }

  /** Sees to it that there is a database to fill. @returns false where the sample is whole already */
  private async prepare(): Promise<boolean> {
    const found = await findSample(this.url);
    const name = sampleName(this.url);
    if (found === 'foreign')
      throw new Problem(
        'sample-impossible',
        `There is a database called "${name}" that Wareboard did not make, so it is left alone. Rename it, and try again.`,
      );
    if (found === 'absent') await this.database.makeDatabase(name).catch((error) => this.refuseDatabase(error));
    return found !== 'whole';
  }

  private refuseDatabase(error: { code?: string }): void {
    if (error.code === '42P04') return; // duplicate_database: another process was quicker
    if (error.code !== '42501') throw error; // insufficient_privilege
    const [name, user] = [sampleName(this.url), databaseUser(this.url)];
    throw new Problem(
      'sample-impossible',
      `The database user "${user}" may not make databases. Ask the person who looks after PostgreSQL to run: CREATE DATABASE "${name}" OWNER "${user}" ENCODING 'UTF8' TEMPLATE template0; then try again. Or run "npm run demo" on your own computer.`,
    );
  }

  /** Fills the database, unless another process does. */
  private async load(): Promise<void> {
    await withSampleLock(this.url, async () => {
      const found = await findSample(this.url);
      if (found === 'whole') return;
      await markSample(this.url, 'unfinished');
      if (found === 'unfinished') await clearSample(this.url);
      await migrate(sampleUrl(this.url));
      const { db, close } = await openDatabase(sampleUrl(this.url), { max: CONNECTIONS });
      try {
        await loadDemo(db, now(), this.stopping.signal);
        // the passwords of the invented people stand in the README: here nobody comes in but from the studio itself
        const passwordHash = await hashPassword(randomBytes(24).toString('base64url'));
        await db.staffMember.updateMany({ data: { passwordHash } });
      } finally {
        await close();
      }
      await markSample(this.url, 'whole');
    });
  }

  private noteFailure(error: unknown): void {
    if (this.stopping.signal.aborted) return;
    this.log.error({ err: error }, 'the sample studio could not be made');
    this.failure =
      'The sample studio could not be made. Try again; if it fails once more, the log of Wareboard says why. Your own studio is not touched by it.';
  }

  private async serve(): Promise<Served> {
    const { config, renderer, log } = this;
    await migrate(sampleUrl(this.url)); // it may be older than the program
    const { db, close: closeDatabase } = await openDatabase(sampleUrl(this.url), { max: CONNECTIONS });
    const transport = outboxFolder(join(this.folder, 'outbox'));
    const post = { db, now, transport, writesFiles: true, from: undefined, renderer };
    const { trustProxy, plainHttp } = config;
    const app = await buildApp({
      ...{ db, now, renderer, logger: log, trustProxy, plainHttp, tls: readCertificate(config) },
      sampleOf: { ownStudio: (request) => this.ownAddressFor(request) },
    });
    try {
      await this.listen(app);
      const worker = await startWorker(sampleUrl(this.url), post, log);
      const { port } = app.server.address() as AddressInfo;
      return {
        ...{ db, port },
        close: async () => {
          await app.close();
          await worker.stop();
          await closeDatabase();
        },
      };
    } catch (error) {
      await app.close();
      await closeDatabase();
      throw error;
    }
  }

  /** On the port that was chosen for it; else on the one after the studio's own, or any where that is taken. */
  private async listen(app: App): Promise<void> {
    const { host, port, samplePort } = this.config;
    const wanted = samplePort ?? (port === 0 ? 0 : port + 1);
    try {
      await app.listen({ host, port: wanted });
    } catch (error) {
      if ((error as { code?: string }).code !== 'EADDRINUSE') throw error;
      if (samplePort !== undefined)
        throw new Problem('sample-impossible', `Port ${samplePort} is in use. Choose another in SAMPLE_PORT.`);
      await app.listen({ host, port: 0 });
    }
  }

  private async stopServing(): Promise<void> {
    const { serving } = this;
    this.serving = undefined;
    await (await serving?.catch(() => undefined))?.close();
  }

  /** The cookie that lets in is of the host that was opened, whatever the port, so the sample must be on the same host. */
  private refuseOutOfReach(request: FastifyRequest): void {
    const { sampleUrl: given, tls } = this.config;
    if (given && new URL(given).hostname !== request.hostname)
      throw new Problem(
        'sample-impossible',
        `SAMPLE_URL must be on ${request.hostname}, as the studio is, on another port. Change it, and start Wareboard again.`,
      );
    if (!given && !tls && request.protocol === 'https')
      throw new Problem(
        'sample-impossible',
        'You reach Wareboard through a proxy, which does not know the sample yet. Let it pass a second port of this address on to the sample (port 4748 unless SAMPLE_PORT says otherwise), set SAMPLE_URL to that address, and start Wareboard again. Or open Wareboard on the machine it runs on, or run "npm run demo" on your own computer.',
      );
  }

  private addressFor({ protocol, hostname }: FastifyRequest, port: number): string {
    return this.config.sampleUrl ?? `${protocol}://${hostname}:${port}`;
  }

  /** The way back: as people reach the studio from outside, but for whoever opened the sample on the machine itself. */
  private ownAddressFor({ protocol, hostname }: FastifyRequest): string {
    const { baseUrl } = this.config;
    const named = baseUrl !== undefined && (new URL(baseUrl).hostname === hostname || !isLoopback(hostname));
    return named ? baseUrl : `${protocol}://${hostname}:${this.ownPort}`;
  }
}
