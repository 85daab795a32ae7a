import { createReadStream, createWriteStream } from 'node:fs';
import { mkdtemp, rename, rm, stat } from 'node:fs/promises';
import { basename, dirname, join, resolve } from 'node:path';
import { finished, pipeline } from 'node:stream/promises';
import type pg from 'pg';
import { to as copyTo } from 'pg-copy-streams';
import { CannotStart } from '../../config.js';
import { VERSION } from '../../version.js';
import { checkServer, withClient } from '../client.js';
import { MIGRATION_LOCK, readApplied } from '../migrate.js';
import { readArchive, writeArchive } from './archive.js';
import { type Manifest, newManifest, type StoredTable } from './manifest.js';
import { measure } from './measure.js';
import { columnList, quoted, type Table, tablesInOrder } from './tables.js';

export interface Backup {
  manifest: Manifest;
  bytes: number;
  /** Of the whole file. */
  sha256: string;
}

/**
 * Writes all that a studio's tables hold at one moment into a file, while it is served. The file appears under its name when it is
 * complete and has been read back; only its owner may read it. Memory stays flat: a table at a time lies beside it on the disk.
 * @throws CannotStart where there is something under that name, or nothing to back up
 */
export async function makeBackup(url: string, file: string, now: Date): Promise<Backup> {
  const target = resolve(file);
  await refuseExisting(target);
  const folder = await mkdtemp(join(dirname(target), '.wareboard-backup-')).catch((error) => {
    throw new CannotStart(`Nothing can be written in ${dirname(target)} (${error.code}). Choose another folder.`);
  });
  try {
    const spoolOf = (table: string) => join(folder, table);
    const manifest = await withClient(url, (client) => snapshot(client, spoolOf, now));
    const draft = join(folder, 'backup.tar.gz');
    await writeArchive(draft, manifest, spoolOf);
    await readManifest(draft);
    const whole = await sha256OfFile(draft);
    await refuseExisting(target);
    await rename(draft, target);
    return { manifest, ...whole };
  } catch (error) {
    if ((error as { code?: string }).code !== 'ENOSPC') throw error;
    throw new CannotStart(
      `The disk of ${dirname(target)} is full. A backup needs room for all tables as text, and for the file. Make room, or choose another place.`,
    );
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

/** Reads a backup through and compares all its checksums. @throws CannotStart where they don't fit */
export const readManifest = (file: string): Promise<Manifest> =>
  readArchive(file, (_, content) => finished(content.resume()));

/** The size and the SHA-256 of a file, for comparing copies. */
export async function sha256OfFile(file: string): Promise<{ bytes: number; sha256: string }> {
  const { through, result } = measure();
  await Promise.all([pipeline(createReadStream(file), through), finished(through.resume())]);
  return result();
}

async function refuseExisting(target: string): Promise<void> {
  if (await stat(target).catch(() => undefined))
    throw new CannotStart(`${basename(target)} is there already. Choose another name: a backup never replaces a file.`);
}

async function snapshot(client: pg.Client, spoolOf: (table: string) => string, now: Date): Promise<Manifest> {
  await checkServer(client);
  // whoever wants to change the tables waits until they are read; let go with the connection
  await client.query('SELECT pg_advisory_lock_shared($1)', [MIGRATION_LOCK]);
  await client.query('BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY');
  const migrations = (await readApplied(client)).map(({ name, checksum }) => ({ name, checksum }));
  if (migrations.length === 0) throw new CannotStart('There is no studio in this database yet: nothing to back up.');
  const tables: StoredTable[] = [];
  for (const table of await tablesInOrder(client)) tables.push(await spool(client, table, spoolOf(table.name)));
  await client.query('COMMIT');
  return newManifest({ program: VERSION, takenAt: now.toISOString(), migrations, tables });
}

/** Rows stand in the order of their key, so that two backups of the same data are alike. */
async function spool(client: pg.Client, { name, columns, key }: Table, path: string): Promise<StoredTable> {
  const order = key.length > 0 ? ` ORDER BY ${columnList(key)}` : '';
  const rows = client.query(copyTo(`COPY (SELECT ${columnList(columns)} FROM ${quoted(name)}${order}) TO STDOUT`));
  const { through, result } = measure();
  await pipeline(rows, through, createWriteStream(path, { mode: 0o600 }));
  return { name, columns, ...result() };
}
