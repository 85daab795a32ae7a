import type { FastifyBaseLogger } from 'fastify';
import { type Job, Logger, type Runner, run, runOnce, type TaskList } from 'graphile-worker';
import { faultOf } from '../http/fault.js';
import { bookingCron, bookingTasks } from '../studio/bookings/jobs.js';
import { noticeTasks, type Post } from '../studio/notices/jobs.js';

const JOBS_AT_ONCE = 2;
const POLL_MILLISECONDS = 2000;

export type RunningWorker = {
  /** Finishes the jobs under way and stops. */
  stop(): Promise<void>;
};

/** Works through what is in the queue now, and stops. */
export async function workOnce(databaseUrl: string, post: Post, log: FastifyBaseLogger): Promise<void> {
  const connection = { connectionString: databaseUrl, noHandleSignals: true };
  await runOnce({ ...connection, logger: workerLog(log), taskList: tasks(post), parsedCronItems: [] });
}

/** Starts working through the queue: letters to deliver, holds to release. Tables and queue must have been migrated. */
export async function startWorker(databaseUrl: string, post: Post, log: FastifyBaseLogger): Promise<RunningWorker> {
  const runner: Runner = await run({
    connectionString: databaseUrl,
    concurrency: JOBS_AT_ONCE,
    pollInterval: POLL_MILLISECONDS,
    noHandleSignals: true, // the command that started us stops us, once requests have drained
    logger: workerLog(log),
    taskList: tasks(post),
    crontab: bookingCron.map(({ match, task }) => `${match} ${task}`).join('\n'),
  });
  runner.promise.catch((error) => log.error({ err: faultOf(error) }, 'the worker stopped'));
  return { stop: () => runner.stop() };
}

/** What can stand in the queue. */
const tasks = (post: Post): TaskList => ({ ...noticeTasks(post), ...bookingTasks(post.db, post.now) });

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
  return { job: job.id, task: job.task_identifier, attempt: job.attempts, of: job.max_attempts, err: faultOf(error) };
}
