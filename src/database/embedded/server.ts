import { resolve } from 'node:path';
import { CannotStart } from '../../config.js';
import { findBinaries, runnableBinaries } from './binaries.js';
import { makeCluster } from './cluster.js';
import {
  type ClusterLocation,
  ELSEWHERE,
  findClusterLocation,
  makeClusterLocation,
  removeClusterLocation,
} from './cluster-location.js';
import { findPostmaster, type Settings } from './postmaster.js';
import type { Log } from './run-command.js';
import { joinLease, leaveLease } from './server-lease.js';
import { makeFurtherDatabase, studioDatabase, superuserUrl } from './studio-database.js';

export interface Embedded {
  /** Reaches the studio's database as its owner, who is no superuser. It holds the password: never log it. */
  url: string;
  /** Reaches the same database as superuser, for tests: they make databases, and look past triggers. Never log it either. */
  superuserUrl: string;
  /** Makes a further, empty database that the studio's role owns, which may not make one itself. */
  makeDatabase(name: string): Promise<void>;
  /** Stops using the server, and stops it if no other process uses it. Call it when requests have drained. */
  stop(): Promise<void>;
}

export interface Options {
  /** Settings of postgresql.conf on top of ours. */
  settings?: Settings;
  /** The npm package that brings PostgreSQL's programs; without it, the one installed for this platform. */
  binaries?: string;
  /** Where a cluster goes that can't live in the data folder because root starts it. */
  elsewhere?: string;
}

/**
 * Starts the PostgreSQL that comes from npm over the cluster in a data folder, which it makes if there is none, or adopts the
 * server that already runs there. Several processes may do so at once; the last to stop stops the server.
 * @throws CannotStart in one line that says what to do
 */
export async function startEmbedded(dataFolder: string, log: Log, options: Options = {}): Promise<Embedded> {
  const { lodging, native } = await moveIn(resolve(dataFolder), log, options);
  const settings = options.settings ?? {};
  let keeper = await joinLease(lodging, native, settings, log);
  const url = await studioDatabase(keeper);

  let stopping = false;
  let rejoined: Promise<void> = Promise.resolve();
  const watch = () =>
    keeper.session.once('end', () => {
      if (!stopping) rejoined = rejoin();
    });
  // Killed from outside: without a session of its own, this process would no longer count as a user of the server.
  const rejoin = async () => {
    log('The connection to PostgreSQL broke. Looking for the server, and starting it again if it is gone.');
    try {
      const { port } = keeper;
      keeper = await joinLease(lodging, native, settings, log);
      watch();
      log(keeper.port === port ? 'PostgreSQL is back.' : 'PostgreSQL is back on another port: restart Wareboard.');
    } catch (error) {
      log((error as Error).message);
    }
  };
  watch();

  return {
    url,
    superuserUrl: superuserUrl(keeper),
    makeDatabase: (name) => makeFurtherDatabase(keeper, name),
    async stop() {
      if (stopping) return;
      stopping = true;
      await rejoined;
      await leaveLease(keeper, lodging, native, log);
    },
  };
}

/** Deletes the cluster of a data folder with all that is in it. @throws CannotStart while another process uses it */
export async function eraseEmbedded(dataFolder: string, log: Log): Promise<void> {
  const folder = resolve(dataFolder);
  const lodging = await findClusterLocation(folder);
  if (!lodging) return;
  if (await findPostmaster(lodging)) {
    const native = await runnableBinaries(await findBinaries(), lodging.folder, log, lodging.owner);
    await leaveLease(await joinLease(lodging, native, {}, log), lodging, native, log);
    if (await findPostmaster(lodging))
      throw new CannotStart(`The database in ${lodging.folder} is in use. Stop the other Wareboard first.`);
  }
  await removeClusterLocation(folder, lodging);
}

async function moveIn(
  dataFolder: string,
  log: Log,
  options: Options,
): Promise<{ lodging: ClusterLocation; native: string }> {
  const found = await findBinaries(options.binaries);
  const sync = options.settings?.fsync !== 'off';
  const lodging =
    (await findClusterLocation(dataFolder)) ??
    (await makeClusterLocation(dataFolder, options.elsewhere ?? ELSEWHERE, log, async (draft) => {
      const native = await runnableBinaries(found, draft.folder, log, draft.owner);
      await makeCluster(draft, native, { sync, version: found.version });
    }));
  return { lodging, native: await runnableBinaries(found, lodging.folder, log, lodging.owner) };
}
