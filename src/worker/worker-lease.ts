import { EventEmitter, once } from 'node:events';
import { setTimeout as sleep } from 'node:timers/promises';
import type { FastifyBaseLogger } from 'fastify';
import type { WorkerEvents } from 'graphile-worker';
import { withClient } from '../database/client.js';
import { logSafeError } from '../http/log-safe-error.js';
import { absentWorkers, type Client, takeLock, unlockJobsOf } from './queries.js';

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

export interface WorkerLease {
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
export function holdWorkerLease(databaseUrl: string, log: FastifyBaseLogger, rhythm: Rhythm = RHYTHM): WorkerLease {
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
            log.warn({ err: logSafeError(error) }, 'the worker lost its place in the database and takes it again');
        });
        gate.shut();
        await sleep(RECONNECT_MILLISECONDS, undefined, { signal: leaving.signal });
      }
    } catch (error) {
      if (!leaving.signal.aborted) throw error;
    }
  }

  async function stay(client: Client, name: string): Promise<void> {
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

/** Gives back what is locked by workers whose own lock was free at two looks. */
async function sweep(
  client: Client,
  name: string,
  graceMilliseconds: number,
  signal: AbortSignal,
  log: FastifyBaseLogger,
): Promise<void> {
  const missing = await absentWorkers(client, name);
  if (missing.length === 0) return;
  await sleep(graceMilliseconds, undefined, { signal });
  const workers = await unlockJobsOf(client, missing);
  if (workers > 0) log.warn({ workers }, 'jobs of workers that are gone were given back to the queue');
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
