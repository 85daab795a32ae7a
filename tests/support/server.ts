import { randomBytes } from 'node:crypto';
import { existsSync } from 'node:fs';
import { rm } from 'node:fs/promises';
import { withClient } from '../../src/database/client.js';
import { findBinaries } from '../../src/database/embedded/binaries.js';
import { eraseEmbedded, startEmbedded } from '../../src/database/embedded/server.js';
import { migrate } from '../../src/database/migrate.js';
import { listDeadScratchFolders, makeScratchFolder } from './scratch-folder.js';

/** Small, and careless about power cuts but not about kill -9: commits reach the operating system. */
export const SMALL = {
  shared_buffers: '32MB',
  max_connections: '200',
  fsync: 'off',
  full_page_writes: 'off',
  max_wal_size: '256MB',
};

/** PostgreSQL 18 would start I/O workers; older ones know neither them nor the setting. */
const WITHOUT_IO_WORKERS = { io_method: 'sync' };
const FIRST_WITH_IO_WORKERS = 18;

const quiet = () => undefined;

export interface TestServer {
  /** A user who may make databases. */
  url: string;
  /** A migrated database that nobody may enter, for cloning. */
  template: string;
  stop(): Promise<void>;
}

/**
 * The first of: TEST_DATABASE_URL; the npm package of another PostgreSQL in the folder TEST_POSTGRES; a container where a Docker
 * engine answers; the embedded server. With the template made.
 */
export async function startTestServer(): Promise<TestServer> {
  const server = given() ?? (await other()) ?? (await container()) ?? (await embedded());
  const template = `wareboard_test_${randomBytes(4).toString('hex')}`;
  try {
    await makeTemplate(server.url, template);
  } catch (error) {
    await server.stop();
    throw error;
  }
  return { ...server, template, stop: () => stopTestServer(server, template) };
}

async function makeTemplate(url: string, template: string): Promise<void> {
  await withClient(url, (client) => client.query(`CREATE DATABASE ${template} ENCODING 'UTF8' TEMPLATE template0`));
  await migrate(named(url, template));
  await withClient(url, (client) => client.query(`ALTER DATABASE ${template} ALLOW_CONNECTIONS false`));
}

async function stopTestServer(server: Pick<TestServer, 'url' | 'stop'>, template: string): Promise<void> {
  await withClient(server.url, async (client) => {
    const { rows } = await client.query<{ datname: string }>(
      'SELECT datname FROM pg_database WHERE starts_with(datname, $1)',
      [template],
    );
    for (const { datname } of rows) await client.query(`DROP DATABASE ${datname} WITH (FORCE)`);
  });
  await server.stop();
}

/** The same server's address with another database. */
export function named(url: string, database: string): string {
  const address = new URL(url);
  address.pathname = `/${database}`;
  return address.href;
}

function given() {
  const url = process.env.TEST_DATABASE_URL;
  return url ? { url, stop: async () => undefined } : undefined;
}

async function container() {
  if (!process.env.DOCKER_HOST && !existsSync('/var/run/docker.sock')) return undefined;
  const { PostgreSqlContainer } = await import('@testcontainers/postgresql');
  const options = Object.entries({ ...SMALL, ...WITHOUT_IO_WORKERS }).flatMap(([name, value]) => [
    '-c',
    `${name}=${value}`,
  ]);
  try {
    const started = await new PostgreSqlContainer('postgres:18-alpine').withCommand(['postgres', ...options]).start();
    return { url: started.getConnectionUri(), stop: async () => void (await started.stop()) };
  } catch {
    return undefined; // no engine answers, or it can't get the image
  }
}

async function other() {
  const folder = process.env.TEST_POSTGRES;
  return folder ? embedded(folder) : undefined;
}

async function embedded(binaries?: string) {
  await clearDead();
  const { version } = await findBinaries(binaries);
  const newer = Number.parseInt(version, 10) >= FIRST_WITH_IO_WORKERS;
  const settings = newer ? { ...SMALL, ...WITHOUT_IO_WORKERS } : SMALL;
  // vitest loads the set-up anew for each project: in one folder, the first to stop would delete the others' database
  const folder = await makeScratchFolder('test');
  const server = await startEmbedded(folder, quiet, { settings, ...(binaries && { binaries }) });
  return {
    url: server.superuserUrl,
    stop: async () => {
      await server.stop();
      await rm(folder, { recursive: true, force: true });
    },
  };
}

/** Servers of test runs that were killed. */
async function clearDead(): Promise<void> {
  for (const folder of await listDeadScratchFolders())
    await eraseEmbedded(folder, quiet)
      .then(() => rm(folder, { recursive: true, force: true }))
      .catch(quiet); // another run clears it at the same time
}
