import { createHash, randomUUID } from 'node:crypto';
import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Logger, runMigrations } from 'graphile-worker';
import type pg from 'pg';
import { CannotStart } from '../config.js';
import { checkServer, withClient } from './client.js';

/** Lies beside src/ and dist/ alike. */
export const MIGRATIONS = fileURLToPath(new URL('../../prisma/migrations', import.meta.url));

// The number under which Prisma's own tools lock (from memory: 72707369), so that they and we wait for each other.
export const MIGRATION_LOCK = 72_707_369;

// As Prisma makes it, so that `prisma migrate status` and the like agree.
const TABLE = `CREATE TABLE IF NOT EXISTS _prisma_migrations (
  id                  varchar(36) PRIMARY KEY NOT NULL,
  checksum            varchar(64) NOT NULL,
  finished_at         timestamptz,
  migration_name      varchar(255) NOT NULL,
  logs                text,
  rolled_back_at      timestamptz,
  started_at          timestamptz NOT NULL DEFAULT now(),
  applied_steps_count integer NOT NULL DEFAULT 0
)`;

export interface Migration {
  name: string;
  sql: string;
  checksum: string;
}

export interface Applied {
  name: string;
  checksum: string;
  finished: boolean;
}

/**
 * Brings a database to the state of the code: the migrations of a folder in the order of their names, each in a transaction of
 * its own, and the tables of the job queue. Any number of processes may do so at once; one works, the others wait.
 * @param upTo the name of the last one to apply, where a backup from then is to be loaded; without it, all
 * @returns the names of the migrations that it applied
 * @throws CannotStart where the database does not fit the code, or a migration fails; what came before that one stays
 */
export async function migrate(url: string, folder: string = MIGRATIONS, upTo?: string): Promise<string[]> {
  const known = await readMigrations(folder);
  return withClient(url, async (client) => {
    await checkServer(client);
    await client.query('SELECT pg_advisory_lock($1)', [MIGRATION_LOCK]); // let go with the connection
    const applied = await readApplied(client);
    const missing = pending(known, applied).filter(({ name }) => upTo === undefined || name <= upTo);
    if (applied.length === 0 && missing.length > 0) await client.query(TABLE);
    for (const migration of missing) await apply(client, migration);
    await migrateJobs(url);
    return missing.map((migration) => migration.name);
  });
}

export async function readMigrations(folder: string): Promise<Migration[]> {
  const entries = await readdir(folder, { withFileTypes: true });
  const names = entries.filter((entry) => entry.isDirectory()).map((entry) => entry.name);
  return Promise.all(
    names.sort().map(async (name) => {
      const text = await readFile(join(folder, name, 'migration.sql'), 'utf8');
      const sql = text.replaceAll('\r\n', '\n'); // a checkout on Windows is the same migration
      return { name, sql, checksum: createHash('sha256').update(sql).digest('hex') };
    }),
  );
}

export async function readApplied(client: pg.Client): Promise<Applied[]> {
  const { rows } = await client.query<{ there: boolean }>(
    `SELECT to_regclass('_prisma_migrations') IS NOT NULL AS there`,
  );
  if (!rows[0]?.there) return [];
  const applied = await client.query<Applied>(
    `SELECT migration_name AS name, checksum, finished_at IS NOT NULL AS finished
       FROM _prisma_migrations WHERE rolled_back_at IS NULL ORDER BY migration_name COLLATE "C"`,
  );
  return applied.rows;
}

/** What is to be applied still. @throws CannotStart where the database's history is not the beginning of the code's */
function pending(known: Migration[], applied: Applied[]): Migration[] {
  const names = new Set(known.map(({ name }) => name));
  const newer = applied.filter(({ name }) => !names.has(name));
  if (newer.length > 0)
    throw new CannotStart(
      `The database is newer than this Wareboard: it has ${newer.map(({ name }) => name).join(', ')}. Install the newer version, or restore a backup from before.`,
    );
  const history = new Map(applied.map((migration) => [migration.name, migration]));
  for (const { name, checksum } of known) {
    const before = history.get(name);
    if (before && !before.finished)
      throw new CannotStart(`Migration ${name} was begun by another tool and did not finish. Resolve it there first.`);
    if (before && before.checksum !== checksum)
      throw new CannotStart(
        `Migration ${name} was edited after it was applied to this database. Restore the file, and put the change in a new migration.`,
      );
  }
  const missing = known.filter(({ name }) => !history.has(name));
  const last = applied.at(-1)?.name ?? '';
  const late = missing.find(({ name }) => name < last);
  if (late)
    throw new CannotStart(
      `Migration ${late.name} comes before ${last}, which is applied already. Give it a later number.`,
    );
  return missing;
}

async function apply(client: pg.Client, { name, sql, checksum }: Migration): Promise<void> {
  const startedAt = new Date();
  try {
    await client.query('BEGIN');
    await client.query(sql);
    await client.query(
      `INSERT INTO _prisma_migrations (id, checksum, migration_name, started_at, finished_at, applied_steps_count)
       VALUES ($1, $2, $3, $4, clock_timestamp(), 1)`,
      [randomUUID(), checksum, name, startedAt],
    );
    await client.query('COMMIT');
  } catch (error) {
    await client.query('ROLLBACK').catch(() => undefined); // a lost connection has rolled back already
    const { message, position } = error as pg.DatabaseError;
    const line = position ? ` in line ${sql.slice(0, Number(position)).split('\n').length}` : '';
    throw new CannotStart(`Migration ${name} failed${line} and was undone: ${message}`);
  }
}

/** The job queue brings its own tables. */
async function migrateJobs(url: string): Promise<void> {
  await runMigrations({ connectionString: url, maxPoolSize: 1, logger: new Logger(() => () => undefined) });
}
