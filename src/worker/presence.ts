import { EventEmitter, once } from 'node:events';
import { setTimeout as sleep } from 'node:timers/promises';
import type { FastifyBaseLogger } from 'fastify';
import type { WorkerEvents } from 'graphile-worker';
import type pg from 'pg';
import { withClient } from '../database/client.js';
import { faultOf } from '../http/fault.js';

const RECONNECT_MILLISECONDS = 1000;

export interface Rhythm {
  /** How often a worker looks for jobs of dead ones. */
  sweepMilliseconds: number;
  /** How long a worker must have been gone: one whose connection broke is back sooner, and keeps its jobs. */
  graceMilliseconds: number;
  /** Called at each look: this worker is alive, and so is the database. */
  alive?: () => void;
}

/** A minute and the ten seconds are the longest that a killed worker's job waits for another worker. */
export const RHYTHM: Rhythm = { sweepMilliseconds: 60_000, graceMilliseconds: 10_000 };

export interface Presence {
  /** For the queue: tells us under which name it locks its jobs, before it locks the first. */
  events: WorkerEvents;
  /** For the queue: waits until this worker's lock is held, so that no job is taken without it. */
  mayWork(): Promise<null>;
  /** Lets those through who wait, as where the queue stops: it takes no job then. */
  open(): void;
  /** Lets the lock go; call it when the last job is done. */
  leave(): Promise<void>;
}

/**
 * Holds a session advisory lock under the name by which a worker locks its jobs, for as long as the process lives. The system
 * ends that session with the process, however it dies; so a job whose worker's lock is free has nobody who works on it, and
 * is given back to the queue. Without this, the queue would wait four hours for a worker that was killed.
 */
export function presence(databaseUrl: string, log: FastifyBaseLogger, rhythm: Rhythm = RHYTHM): Presence {
  const events: WorkerEvents = new EventEmitter();
  const leaving = new AbortController();
  const gate = makeGate();
  const named = once(events, 'pool:create', { signal: leaving.signal });
  const kept = keep();

  async function keep(): Promise<void> {
    try {
      const [{ workerPool }] = await named;
      for (;;) {
        await withClient(databaseUrl, (client) => stay(client, workerPool.id)).catch((error) => {
          if (!leaving.signal.aborted)
            log.warn({ err: faultOf(error) }, 'the worker lost its place in the database and takes it again');
        });
        gate.shut();
        await sleep(RECONNECT_MILLISECONDS, undefined, { signal: leaving.signal });
      }
    } catch (error) {
      if (!leaving.signal.aborted) throw error;
    }
  }

  async function stay(client: pg.Client, name: string): Promise<void> {
    const broken = once(client, 'end', { signal: leaving.signal });
    broken.catch(() => undefined);
    await takeLock(client, name);
    gate.open();
    const work = async () => {
      for (;;) {
        await sweep(client, name, rhythm.graceMilliseconds, leaving.signal, log);
        rhythm.alive?.();
        await sleep(rhythm.sweepMilliseconds, undefined, { signal: leaving.signal });
      }
    };
    await Promise.race([work(), broken]);
  }

  return {
    events,
    mayWork: gate.passed,
    open: gate.open,
    async leave() {
      leaving.abort();
      gate.open();
      await kept;
    },
  };
}

const LOCK_OF = 'hashtextextended(id, 0)'; // a lock is a number

async function takeLock(client: pg.Client, name: string): Promise<void> {
  // a machine that lost its power says no goodbye: the server asks after it, and ends its session within half a minute
  await client.query(
    'SET idle_session_timeout = 0; SET tcp_keepalives_idle = 10; SET tcp_keepalives_interval = 5; SET tcp_keepalives_count = 3',
  );
  await client.query(`SELECT pg_advisory_lock(${LOCK_OF}) FROM (VALUES ($1)) AS worker (id)`, [name]);
}

/** Gives back what is locked by workers whose own lock was free at two looks. */
async function sweep(
  client: pg.Client,
  name: string,
  graceMilliseconds: number,
  signal: AbortSignal,
  log: FastifyBaseLogger,
): Promise<void> {
  const { rows } = await client.query<{ id: string }>(
    `WITH worker AS MATERIALIZED (
       SELECT locked_by AS id FROM graphile_worker._private_jobs WHERE locked_by <> $1
       UNION SELECT locked_by FROM graphile_worker._private_job_queues WHERE locked_by <> $1)
     SELECT id FROM worker WHERE pg_try_advisory_xact_lock(${LOCK_OF})`,
    [name],
  );
  if (rows.length === 0) return;
  await sleep(graceMilliseconds, undefined, { signal });
  // the locks are held while the jobs are given back, so that a worker that returns at this moment waits
  const gone = await client.query<{ ids: string[] | null }>(
    `WITH gone AS MATERIALIZED (SELECT id FROM unnest($1::text[]) AS worker (id) WHERE pg_try_advisory_xact_lock(${LOCK_OF})),
       ids AS MATERIALIZED (SELECT array_agg(id) AS ids FROM gone)
     SELECT ids, graphile_worker.force_unlock_workers(ids) FROM ids`,
    [rows.map(({ id }) => id)],
  );
  const { length } = gone.rows[0]?.ids ?? [];
  if (length > 0) log.warn({ workers: length }, 'jobs of workers that are gone were given back to the queue');
}

/** A gate that is shut at first. Whoever comes while it is shut waits until it opens, however often it is shut before. */
function makeGate() {
  let isOpen = false;
  const waiting = new EventEmitter().setMaxListeners(0);
  return {
    open: () => {
      isOpen = true;
      waiting.emit('open');
    },
    shut: () => {
      isOpen = false;
    },
    passed: async (): Promise<null> => {
      if (!isOpen) await once(waiting, 'open');
      return null;
    },
  };
}
