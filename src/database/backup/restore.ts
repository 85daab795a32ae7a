import { pipeline } from 'node:stream/promises';
import type pg from 'pg';
import { from as copyFrom } from 'pg-copy-streams';
import { CannotStart } from '../../config.js';
import { checkServer, withClient } from '../client.js';
import { MIGRATIONS, migrate, readApplied, readMigrations } from '../migrate.js';
import { readArchive } from './archive.js';
import { readManifest } from './make.js';
import type { Manifest } from './manifest.js';
import { columnList, quoted, type Table, tablesInOrder, tablesInUse } from './tables.js';

export interface RestoreOptions {
  /** SQL that is run when the rows are there, in the same transaction: what must come back and lies in no table of the studio's. */
  afterwards?: readonly string[];
  /** Where the migrations lie; another one in tests. */
  migrations?: string;
}

/**
 * Brings a backup back into an empty database: makes the tables as they were then, loads all rows in one transaction, and brings
 * the tables up to date. The studio's own triggers rest meanwhile: they judge an act at its moment (a piece was dry when it went into
 * the kiln, and is a mug by now), and these are no acts. Keys, checks, references and exclusions hold as ever, and the checksums
 * say that the rows are those that were judged once. Look for broken rules afterwards.
 * @throws CannotStart where the file is damaged, is newer than the program, or the database holds something; then nothing was written
 */
export async function restoreBackup(url: string, file: string, options: RestoreOptions = {}): Promise<Manifest> {
  const { afterwards = [], migrations = MIGRATIONS } = options;
  const manifest = await readManifest(file); // before anything is written
  await refuseUnknown(manifest, migrations);
  await withClient(url, async (client) => {
    await checkServer(client);
    await refuseUsed(client);
    await refuseNewer(client, manifest);
  });
  await migrate(url, migrations, manifest.migrations.at(-1)?.name);
  await withClient(url, (client) => load(client, file, manifest, afterwards));
  await migrate(url, migrations);
  return manifest;
}

async function refuseUnknown(manifest: Manifest, folder: string): Promise<void> {
  const known = new Map((await readMigrations(folder)).map(({ name, checksum }) => [name, checksum]));
  const unknown = manifest.migrations.find(({ name }) => !known.has(name));
  if (unknown)
    throw new CannotStart(
      `The backup was made by a newer Wareboard (${manifest.program}, with ${unknown.name}). Install that version or a later one.`,
    );
  const other = manifest.migrations.find(({ name, checksum }) => known.get(name) !== checksum);
  if (other)
    throw new CannotStart(
      `The backup was made by a Wareboard (${manifest.program}) whose migration ${other.name} is a different one. Install that version, restore, and upgrade.`,
    );
}

async function refuseUsed(client: pg.Client): Promise<void> {
  const used = await tablesInUse(client);
  if (used.length > 0)
    throw new CannotStart(
      `This database is in use (${used.slice(0, 3).join(', ')}${used.length > 3 ? ' and more' : ''}). A backup is restored into an empty one: name another by DATABASE_URL, or another folder by WAREBOARD_DATA.`,
    );
}

async function refuseNewer(client: pg.Client, manifest: Manifest): Promise<void> {
  const then = new Set(manifest.migrations.map(({ name }) => name));
  const newer = (await readApplied(client)).find(({ name }) => !then.has(name));
  if (newer)
    throw new CannotStart(
      `The tables here are newer than the backup (${newer.name}). Restore it into a database without tables; they are made as they were then, and brought up to date.`,
    );
}

async function load(client: pg.Client, file: string, manifest: Manifest, afterwards: readonly string[]): Promise<void> {
  const tables = await tablesInOrder(client);
  const all = columnList(tables.map(({ name }) => name));
  try {
    await client.query('BEGIN');
    await client.query(`LOCK TABLE ${all}`);
    await refuseUsed(client); // it may have filled meanwhile; from here nobody else writes
    refuseOther(manifest, tables);
    await client.query(`TRUNCATE ${all}`); // what migrations put in is in the backup too
    await triggers(client, tables, 'DISABLE');
    const again = await readArchive(file, ({ name, columns }, content) =>
      pipeline(content, client.query(copyFrom(`COPY ${quoted(name)} (${columnList(columns)}) FROM STDIN`))),
    );
    if (JSON.stringify(again) !== JSON.stringify(manifest) || again.tables.length !== tables.length)
      throw new CannotStart('The backup changed while it was read. Nothing was written; try again with a copy.');
    await client.query('SET CONSTRAINTS ALL IMMEDIATE'); // a reference that is judged last holds its table until then
    await triggers(client, tables, 'ENABLE');
    for (const sql of afterwards) await client.query(sql);
    await client.query('COMMIT');
  } catch (error) {
    await client.query('ROLLBACK').catch(() => undefined);
    if (error instanceof CannotStart) throw error;
    const { message, table } = error as pg.DatabaseError;
    throw new CannotStart(`The backup does not fit${table ? ` (${table})` : ''}: ${message}. Nothing was written.`);
  }
}

/** The file says into which tables its rows go: were it believed, one made by somebody else could write wherever this user may. */
function refuseOther(manifest: Manifest, tables: readonly Table[]): void {
  const columnsOf = new Map(tables.map(({ name, columns }) => [name, columns]));
  const other = manifest.tables.find(({ name, columns }) => columns.join() !== columnsOf.get(name)?.join());
  if (other || new Set(manifest.tables.map(({ name }) => name)).size !== tables.length)
    throw new CannotStart(
      `The backup's tables are not those of a studio${other ? ` ("${other.name}")` : ''}: it was not made by this program. Nothing was written.`,
    );
}

/** All but those behind references, which only a superuser could switch; nobody else sees it, since the tables are locked. */
async function triggers(client: pg.Client, tables: readonly Table[], what: 'DISABLE' | 'ENABLE'): Promise<void> {
  for (const { name } of tables) await client.query(`ALTER TABLE ${quoted(name)} ${what} TRIGGER USER`);
}
