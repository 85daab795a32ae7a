import { createHash } from 'node:crypto';
import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { withClient } from '../../src/database/client.js';
import { MIGRATIONS, migrate } from '../../src/database/migrate.js';
import { makeDatabase } from '../support/database.js';

const all = (await readdir(MIGRATIONS)).sort();

async function rows(url: string, sql: string): Promise<unknown[]> {
  return withClient(url, async (client) => (await client.query(sql)).rows);
}

describe('the real migrations', () => {
  let url: string;
  beforeAll(async () => {
    url = await makeDatabase();
  });

  test('are applied by one of several that come at once, the others wait and find it done', async () => {
    const applied = await Promise.all(Array.from({ length: 5 }, () => migrate(url)));
    expect(applied.filter((names) => names.length > 0)).toEqual([all]);
    const recorded = await rows(url, 'SELECT migration_name AS name FROM _prisma_migrations ORDER BY started_at');
    expect(recorded).toEqual(all.map((name) => ({ name })));
  });

  test('are not applied a second time', async () => {
    const before = await rows(url, 'SELECT * FROM _prisma_migrations ORDER BY migration_name');
    expect(await migrate(url)).toEqual([]);
    expect(await rows(url, 'SELECT * FROM _prisma_migrations ORDER BY migration_name')).toEqual(before);
  });

  test('are recorded as Prisma records them: SHA-256 of the file, one step, finished, not rolled back', async () => {
    const [first] = await rows(url, 'SELECT * FROM _prisma_migrations ORDER BY migration_name');
    const file = await readFile(join(MIGRATIONS, all[0] as string, 'migration.sql'));
    expect(first).toEqual({
      id: expect.stringMatching(/^[0-9a-f-]{36}$/),
      checksum: createHash('sha256').update(file).digest('hex'),
      started_at: expect.any(Date),
      finished_at: expect.any(Date),
      migration_name: all[0],
      logs: null,
      rolled_back_at: null,
      applied_steps_count: 1,
    });
  });

  test('bring the tables of the job queue', async () => {
    const job = `SELECT (graphile_worker.add_job('nothing', '{}'::json)).task_id IS NOT NULL AS added`;
    expect(await rows(url, job)).toEqual([{ added: true }]);
  });
});

describe('a folder of migrations', () => {
  let folder: string;
  let url: string;
  const put = async (name: string, sql: string) => {
    await mkdir(join(folder, name), { recursive: true });
    await writeFile(join(folder, name, 'migration.sql'), sql);
  };
  const tables = () =>
    rows(url, `SELECT relname AS name FROM pg_class WHERE relname IN ('pot', 'lid', 'knob') ORDER BY 1`);
  const names = async () => (await tables()).map((row) => (row as { name: string }).name);
  beforeEach(async () => {
    folder = await mkdtemp(join(tmpdir(), 'wareboard-migrations-'));
    await put('0001_pot', 'CREATE TABLE pot (id integer PRIMARY KEY);');
    await put('0002_lid', 'CREATE TABLE lid (id integer REFERENCES pot);');
    url = await makeDatabase();
  });
  afterEach(() => rm(folder, { recursive: true }));

  test('grows: only what is new is applied', async () => {
    expect(await migrate(url, folder)).toEqual(['0001_pot', '0002_lid']);
    await put('0003_knob', 'CREATE TABLE knob (id integer);');
    expect(await migrate(url, folder)).toEqual(['0003_knob']);
    expect(await names()).toEqual(['knob', 'lid', 'pot']);
  });

  test('with a fault in one is refused with its line; that one leaves nothing, what came before stays', async () => {
    await put('0002_lid', 'CREATE TABLE lid (id integer);\nCREATE TABLE knob (\n  id no_such_type\n);');
    const failing = migrate(url, folder);
    await expect(failing).rejects.toMatchObject({ name: 'CannotStart' });
    await expect(failing).rejects.toThrow(
      'Migration 0002_lid failed in line 3 and was undone: type "no_such_type" does not exist',
    );
    expect(await names()).toEqual(['pot']);
    expect(await rows(url, 'SELECT migration_name AS name FROM _prisma_migrations')).toEqual([{ name: '0001_pot' }]);

    await put('0002_lid', 'CREATE TABLE lid (id integer);');
    expect(await migrate(url, folder)).toEqual(['0002_lid']);
  });

  test('is applied and recorded together or not at all', async () => {
    await rm(join(folder, '0002_lid'), { recursive: true });
    await migrate(url, folder);
    await put('0002_lid', 'CREATE TABLE lid (id integer REFERENCES pot);');
    await withClient(url, async (client) => {
      await client.query('ALTER TABLE _prisma_migrations ADD CONSTRAINT is_full CHECK (false) NOT VALID');
      await expect(migrate(url, folder)).rejects.toThrow(/0002_lid failed and was undone/);
      expect(await names()).toEqual(['pot']);
      await client.query('ALTER TABLE _prisma_migrations DROP CONSTRAINT is_full');
    });
    expect(await migrate(url, folder)).toEqual(['0002_lid']);
  });

  test('that is older than the database is refused, and nothing is touched', async () => {
    await migrate(url, folder);
    await rm(join(folder, '0002_lid'), { recursive: true });
    await put('0003_knob', 'CREATE TABLE knob (id integer);');
    await expect(migrate(url, folder)).rejects.toThrow(
      /^The database is newer than this Wareboard: it has 0002_lid\. Install the newer version, or restore a backup from before\.$/,
    );
    expect(await names()).toEqual(['lid', 'pot']);
  });

  test('in which an applied one was edited is refused', async () => {
    await migrate(url, folder);
    await put('0001_pot', 'CREATE TABLE pot (id integer PRIMARY KEY, glaze text);');
    await expect(migrate(url, folder)).rejects.toThrow(/^Migration 0001_pot was edited after it was applied/);
  });

  test('checked out with the line ends of Windows is the same', async () => {
    await put('0001_pot', 'CREATE TABLE pot (\n  id integer PRIMARY KEY\n);\n');
    await migrate(url, folder);
    await put('0001_pot', 'CREATE TABLE pot (\r\n  id integer PRIMARY KEY\r\n);\r\n');
    expect(await migrate(url, folder)).toEqual([]);
  });

  test('in which one was slipped in before the last applied is refused', async () => {
    await migrate(url, folder);
    await put('0001_reed', 'CREATE TABLE knob (id integer);');
    await expect(migrate(url, folder)).rejects.toThrow(
      /^Migration 0001_reed comes before 0002_lid, which is applied already/,
    );
    expect(await names()).toEqual(['lid', 'pot']);
  });

  test('of which Prisma itself left one unfinished is refused; one that it resolved as rolled back is applied', async () => {
    await migrate(url, folder);
    await withClient(url, async (client) => {
      await client.query(`UPDATE _prisma_migrations SET finished_at = NULL WHERE migration_name = '0002_lid'`);
      await expect(migrate(url, folder)).rejects.toThrow(/0002_lid was begun by another tool and did not finish/);
      await client.query(`UPDATE _prisma_migrations SET rolled_back_at = now() WHERE migration_name = '0002_lid'`);
      await client.query('DROP TABLE lid');
    });
    expect(await migrate(url, folder)).toEqual(['0002_lid']);
  });

  test('waits while another tool holds the lock', async () => {
    let done = false;
    let waiting: Promise<string[]> | undefined;
    await withClient(url, async (client) => {
      await client.query('SELECT pg_advisory_lock(72707369)');
      waiting = migrate(url, folder).finally(() => {
        done = true;
      });
      await client.query('SELECT pg_sleep(0.5)');
      expect(done).toBe(false);
      expect(await names()).toEqual([]);
    });
    expect(await waiting).toEqual(['0001_pot', '0002_lid']);
  });
});

test('a database that is not in UTF-8 is refused', async () => {
  const latin = await makeDatabase(`ENCODING 'LATIN1' LOCALE 'C' TEMPLATE template0`);
  await expect(migrate(latin)).rejects.toThrow(/is in LATIN1 and couldn't hold every name\. Make one with/);
  expect(await rows(latin, `SELECT to_regclass('_prisma_migrations') AS there`)).toEqual([{ there: null }]);
});
