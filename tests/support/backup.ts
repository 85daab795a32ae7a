import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gunzipSync, gzipSync } from 'node:zlib';
import { afterAll } from 'vitest';
import { withClient } from '../../src/database/client.js';

const folders: string[] = [];
afterAll(async () => {
  for (const made of folders) await rm(made, { recursive: true, force: true });
});

/** A folder for the backups of one test file. */
export async function backupFolder(): Promise<string> {
  const made = await mkdtemp(join(tmpdir(), 'wareboard-backups-'));
  folders.push(made);
  return made;
}

/** Every row of every table of the studio's as text, sorted: read by other means than the backup's. */
export async function rowsOf(url: string): Promise<Record<string, string[]>> {
  return withClient(url, async (client) => {
    const { rows: tables } = await client.query<{ name: string }>(
      `SELECT table_name AS name FROM information_schema.tables
        WHERE table_schema = 'public' AND table_type = 'BASE TABLE' AND table_name <> '_prisma_migrations' ORDER BY 1`,
    );
    const all: Record<string, string[]> = {};
    for (const { name } of tables) {
      const { rows } = await client.query<{ row: string }>(`SELECT t::text AS row FROM "${name}" t ORDER BY 1`);
      all[name] = rows.map(({ row }) => row);
    }
    return all;
  });
}

/** The same backup with other bytes in it, as from somebody who knows tar and gzip. */
export async function altered(file: string, to: string, change: (tar: Buffer) => Buffer): Promise<string> {
  await writeFile(to, gzipSync(change(gunzipSync(await readFile(file)))));
  return to;
}
