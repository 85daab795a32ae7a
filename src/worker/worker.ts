import { setTimeout as sleep } from 'node:timers/promises';
import type { FastifyBaseLogger } from 'fastify';
import { type Job, Logger, run, runOnce, type TaskList } from 'graphile-worker';
import { logSafeError } from '../http/log-safe-error.js';
import { keyCron, keyTasks } from '../http/purge-idempotency-keys.js';
import type { Post } from '../mail/post.js';
import { NOUNS } from '../studio/nouns.js';
import { holdWorkerLease, RHYTHM, type Rhythm, type WorkerLease } from './worker-lease.js';

const JOBS_AT_ONCE = 2;
const POLL_MILLISECONDS = 2000;
const RESTART_MILLISECONDS = 5000;

export type RunningWorker = {
  /** Finishes the jobs under way and stops. */
  stop(): Promise<void>;
};

/** Works through what is in the queue now, and stops. */
export async function workOnce(databaseUrl: string, post: Post, log: FastifyBaseLogger): Promise<void> {
  const here = holdWorkerLease(databaseUrl, log);
  try {
    await runOnce({ ...common(databaseUrl, post, log, here), parsedCronItems: [] });
  } finally {
    await here.leave();
  }
}

/**
 * Starts working through the queue: letters to deliver, holds to release. Tables and queue must have been migrated.
 * Should the queue give up, as after a long outage of the database, it is begun anew.
 */
export async function startWorker(
  databaseUrl: string,
  post: Post,
  log: FastifyBaseLogger,
  rhythm: Rhythm = RHYTHM,
): Promise<RunningWorker> {
  const stopping = new AbortController();
  const begin = () => takeTurn(databaseUrl, post, log, rhythm);
  const { signal } = stopping;
  let turn = await begin();
  const turns = (async () => {
    for (;;) {
      await turn.over;
      if (signal.aborted) return;
      log.error('the worker stopped, and starts again');
      turn = await untilBegun(begin, signal);
      if (signal.aborted) await turn.stop();
    }
  })().catch(() => undefined); // asked to stop while there was nothing to stop
  return {
    async stop() {
      stopping.abort();
      await turn.stop();
      await turns;
    },
  };
}

/** Tries until it succeeds: the database may be away for a while. @throws when the signal says so */
async function untilBegun<T>(begin: () => Promise<T>, signal: AbortSignal): Promise<T> {
  for (;;) {
    await sleep(RESTART_MILLISECONDS, undefined, { signal });
    const begun = await begin().catch(() => undefined);
    if (begun !== undefined) return begun;
  }
}

/** One run of the queue, from its start until it is stopped or gives up. */
async function takeTurn(databaseUrl: string, post: Post, log: FastifyBaseLogger, rhythm: Rhythm) {
  const here = holdWorkerLease(databaseUrl, log, rhythm);
  try {
    const runner = await run({
      ...common(databaseUrl, post, log, here),
      concurrency: JOBS_AT_ONCE,
      pollInterval: POLL_MILLISECONDS,
      crontab: [...NOUNS.flatMap(({ cron = [] }) => cron), ...keyCron]
        .map(({ match, task }) => `${match} ${task}`)
        .join('\n'),
    });
    const over = runner.promise
      .catch((error) => log.error({ err: logSafeError(error) }, 'the queue gave up'))
      .finally(() => here.leave());
    return { over, stop: () => Promise.all([runner.stop().catch(() => undefined), here.open(), over]) };
  } catch (error) {
    await here.leave();
    throw error;
  }
}

const common = (databaseUrl: string, post: Post, log: FastifyBaseLogger, { events, mayWork }: WorkerLease) => ({
  connectionString: databaseUrl,
  noHandleSignals: true, // the command that started us stops us, once requests have drained
  logger: workerLog(log),
  taskList: tasks(post),
  events,
  forbiddenFlags: mayWork, // asked before each job is taken
  // In batches of what there is: a job by itself is ticked off by a promise that nobody holds, and where the connection broke at
  // that moment the whole process would end. A batch that fails ends the queue, which begins anew.
  preset: { worker: { completeJobBatchDelay: 0, failJobBatchDelay: 0 } },
});

const ENCLOSE = NOUNS.flatMap(({ encloses = [] }) => encloses);

/** What can stand in the queue. */
const tasks = (post: Post): TaskList => ({
  ...Object.assign({}, ...NOUNS.map(({ tasks }) => tasks?.({ ...post, enclose: ENCLOSE }))),
  ...keyTasks(post.db, post.now),
});

/** The queue's own chatter is for debugging. A job that fails is told by its name and without what it was about: that names people. */
function workerLog(log: FastifyBaseLogger): Logger {
  return new Logger(() => (level, message, meta) => {
    if (meta?.failure) log.warn(failureOf(meta.job as Job, meta.error), 'a job failed and is tried again later');
    else if (level === 'error') log.error(message);
    else if (level === 'warning') log.warn(message);
    else log.debug(message);
  });
}

function failureOf(job: Job, error: unknown) {
  return {
    job: job.id,
    task: job.task_identifier,
    attempt: job.attempts,
    of: job.max_attempts,
    err: logSafeError(error),
  };
}
