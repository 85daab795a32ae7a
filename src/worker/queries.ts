import type pg from 'pg';

export type Client = pg.Client;

const LOCK_OF = 'hashtextextended(id, 0)'; // a lock is a number

/** Takes the lock of a worker for as long as the session lasts. */
export async function takeLock(client: Client, name: string): Promise<void> {
  // a machine that lost its power says no goodbye: the server asks after it, and ends its session within half a minute
  await client.query(
    'SET idle_session_timeout = 0; SET tcp_keepalives_idle = 10; SET tcp_keepalives_interval = 5; SET tcp_keepalives_count = 3',
  );
  await client.query(`SELECT pg_advisory_lock(${LOCK_OF}) FROM (VALUES ($1)) AS worker (id)`, [name]);
}

/** Workers other than this one that have jobs and hold no lock at the moment. */
export async function absentWorkers(client: Client, name: string): Promise<string[]> {
  const { rows } = await client.query<{ id: string }>(
    `WITH worker AS MATERIALIZED (
       SELECT locked_by AS id FROM graphile_worker._private_jobs WHERE locked_by <> $1
       UNION SELECT locked_by FROM graphile_worker._private_job_queues WHERE locked_by <> $1)
     SELECT id FROM worker WHERE pg_try_advisory_xact_lock(${LOCK_OF})`,
    [name],
  );
  return rows.map(({ id }) => id);
}

/**
 * Gives the jobs of those back to the queue who still hold no lock. Their locks are held meanwhile, so that one who returns at
 * this moment waits. @returns how many workers that were
 */
export async function unlockJobsOf(client: Client, names: readonly string[]): Promise<number> {
  const { rows } = await client.query<{ ids: string[] | null }>(
    `WITH gone AS MATERIALIZED (
       SELECT id FROM unnest($1::text[]) AS worker (id) WHERE pg_try_advisory_xact_lock(${LOCK_OF})),
     ids AS MATERIALIZED (SELECT array_agg(id) AS ids FROM gone)
     SELECT ids, graphile_worker.force_unlock_workers(ids) FROM ids`,
    [names],
  );
  return rows[0]?.ids?.length ?? 0;
}
