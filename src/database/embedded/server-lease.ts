import { setTimeout as sleep } from 'node:timers/promises';
import pg from 'pg';
import { CannotStart } from '../../config.js';
import { readPassword, SUPERUSER } from './cluster.js';
import type { ClusterLocation } from './cluster-location.js';
import { findPostmaster, type Settings, startPostmaster, stopPostmaster } from './postmaster.js';
import type { Log } from './run-command.js';

const USE_LOCK = 4_726_301; // any number of our own: advisory locks in the database "postgres"
const JOIN_MILLISECONDS_MAX = 60_000;

export interface ServerLease {
  port: number;
  password: string;
  /** A session of the superuser in the database "postgres". Its end is this process's end as a user of the server. */
  session: pg.Client;
}

/**
 * Becomes a user of the cluster's server, which is started if nobody runs it. Each process that uses the server holds a shared
 * advisory lock in a session of its own; the system ends that session with the process, however it dies, so the record of who
 * uses the server is never wrong. Whoever stops the server holds the lock alone, and a newcomer waits until that is over.
 */
export async function joinLease(
  lodging: ClusterLocation,
  native: string,
  settings: Settings,
  log: Log,
): Promise<ServerLease> {
  const password = await readPassword(lodging);
  const givingUp = Date.now() + JOIN_MILLISECONDS_MAX;
  for (let reason = ''; ; await sleep(100)) {
    const running = await findPostmaster(lodging);
    if (running) {
      const session = await openSession(running.port, password).catch((error: Error) => {
        reason = error.message;
        return undefined;
      });
      if (session) return { port: running.port, password, session };
    } else if (await startPostmaster(lodging, native, settings)) {
      log(`Started PostgreSQL in ${lodging.folder}.`);
      continue;
    }
    if (Date.now() > givingUp)
      throw new CannotStart(
        `The embedded PostgreSQL in ${lodging.folder} does not answer (${reason || 'the remains of a killed server still hold its data'}). End its processes, or restart the machine.`,
      );
  }
}

/** Stops being a user of the server, and stops the server if nobody else uses it. */
export async function leaveLease(
  { session }: ServerLease,
  lodging: ClusterLocation,
  native: string,
  log: Log,
): Promise<void> {
  // a session that breaks here was ended by whoever left at the same moment, was the last, and stops the server
  const last = await isLast(session).catch(() => undefined);
  if (last) await stopPostmaster(lodging, native);
  if (last === false) log('PostgreSQL is still used by another process, which will stop it.');
  await session.end().catch(() => undefined);
}

async function isLast(session: pg.Client): Promise<boolean> {
  await session.query(`SELECT pg_advisory_unlock_shared(${USE_LOCK})`);
  const { rows } = await session.query<{ last: boolean }>(`SELECT pg_try_advisory_lock(${USE_LOCK}) AS last`);
  return rows[0]?.last ?? false;
}

async function openSession(port: number, password: string): Promise<pg.Client> {
  const session = new pg.Client({
    host: '127.0.0.1',
    port,
    user: SUPERUSER,
    password,
    database: 'postgres',
    application_name: 'wareboard keeper',
    connectionTimeoutMillis: 5_000,
    keepAlive: true,
  });
  session.on('error', () => undefined); // told by 'end', which follows
  await session.connect();
  await session.query(`SELECT pg_advisory_lock_shared(${USE_LOCK})`);
  return session;
}
