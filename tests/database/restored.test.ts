import { createWriteStream } from 'node:fs';
import { copyFile, mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { pipeline } from 'node:stream/promises';
import { expect, test } from 'vitest';
import { readArchive, writeArchive } from '../../src/database/backup/archive.js';
import { makeBackup } from '../../src/database/backup/make.js';
import type { Manifest } from '../../src/database/backup/manifest.js';
import { sha256Of } from '../../src/database/backup/measure.js';
import { restoreBackup } from '../../src/database/backup/restore.js';
import { signIn } from '../../src/studio/staff/sign-in.js';
import { testApp } from '../support/app.js';
import { backupFolder, rowsOf } from '../support/backup.js';
import { cloneTemplate } from '../support/database.js';

// A backup as somebody packs it who knows its form: every checksum fits.

const { url, db, clock, ownerMember } = await testApp();
await signIn(db, clock.now(), { email: ownerMember.email, password: 'a long test password' });
const folder = await backupFolder();
const file = join(folder, 'studio.tar.gz');
await makeBackup(url, file, clock.now());
const spool = join(folder, 'spool');
await mkdir(spool);
const manifest = await readArchive(file, ({ name }, content) =>
  pipeline(content, createWriteStream(join(spool, name))),
);
const empty = await rowsOf(await cloneTemplate());

let packed = 0;
async function packedWith(tables: Manifest['tables']): Promise<string> {
  const to = join(folder, `packed-${++packed}.tar.gz`);
  await writeArchive(to, { ...manifest, tables }, (name) => join(spool, name));
  return to;
}
const nothing = { rows: 0, bytes: 0, sha256: sha256Of('') };

test.each(['pg_authid', 'pg_class', '_prisma_migrations', 'person"; DROP TABLE person; --'])(
  'a backup that would write into %s is refused, and nothing is written',
  async (name) => {
    await writeFile(join(spool, name), '');
    const to = await cloneTemplate();
    const tables = [...manifest.tables, { name, columns: ['oid'], ...nothing }];
    await expect(restoreBackup(to, await packedWith(tables))).rejects.toThrow(
      /tables are not those of a studio \(".+"\): it was not made by this program\. Nothing was written\./,
    );
    expect(await rowsOf(to)).toEqual(empty);
  },
);

test('nor is one taken whose columns are others, or in which a table lacks or comes twice', async () => {
  const [first, ...rest] = manifest.tables;
  if (!first) throw new Error('The backup holds no table.');
  for (const tables of [
    [{ ...first, columns: [...first.columns, 'ctid'] }, ...rest],
    rest,
    [first, ...rest.slice(1), { ...first }],
  ])
    await expect(restoreBackup(await cloneTemplate(), await packedWith(tables))).rejects.toThrow(
      'it was not made by this program',
    );
  await copyFile(file, join(folder, 'same.tar.gz'));
  await restoreBackup(await cloneTemplate(), join(folder, 'same.tar.gz'));
});
