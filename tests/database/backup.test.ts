import { createHash } from 'node:crypto';
import { cp, readdir, readFile, rm, stat, truncate, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import fc from 'fast-check';
import { pino } from 'pino';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { writePapers } from '../../src/commands/demo/documents.js';
import { CannotStart } from '../../src/config.js';
import { makeBackup, readManifest } from '../../src/database/backup/make.js';
import { restoreBackup } from '../../src/database/backup/restore.js';
import { openDatabase, withClient } from '../../src/database/client.js';
import { MIGRATIONS, migrate } from '../../src/database/migrate.js';
import { smtp } from '../../src/mail/smtp.js';
import { buildApp } from '../../src/server/app.js';
import { QUEUE_WAITING } from '../../src/studio/notices/queries.js';
import { workOnce } from '../../src/worker/worker.js';
import { findBrokenRules } from '../invariants.js';
import { testApp } from '../support/app.js';
import { altered, backupFolder, rowsOf } from '../support/backup.js';
import { cloneTemplate, makeDatabase } from '../support/database.js';
import { cloneDemo, SEEDED } from '../support/demo.js';
import { bookingFixture, payFor } from '../support/fixtures/bookings.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { receiptFixture } from '../support/fixtures/notices.js';
import { mailServer } from '../support/mail-server.js';

const { url, owner, clock } = await testApp();
const home = await coursesFixture(owner);
const folder = await backupFolder();
const NOW = new Date(SEEDED);
const silent = pino({ level: 'silent' });
const names = await readdir(MIGRATIONS).then((entries) => entries.filter((name) => /^\d/.test(name)).sort());
let files = 0;
const fresh = () => join(folder, `backup-${++files}.tar.gz`);

/** The invented studio with every paper rendered, and its backup. */
const demo = { url: await cloneDemo(), file: fresh() };
beforeAll(async () => {
  const { db, close } = await openDatabase(demo.url);
  await writePapers({ db, now: () => NOW }, join(folder, 'papers'));
  await close();
  await makeBackup(demo.url, demo.file, NOW);
});

async function open(at: string) {
  const { db, close } = await openDatabase(at);
  afterAll(close);
  return db;
}
const tablesIn = (at: string) =>
  withClient(at, async (client) => {
    const { rows } = await client.query(
      `SELECT table_name FROM information_schema.tables WHERE table_schema = 'public'`,
    );
    return rows.length;
  });

describe('a backup', () => {
  test('comes back with every row, and every paper bit for bit', async () => {
    const to = await makeDatabase();
    await restoreBackup(to, demo.file);
    expect(await rowsOf(to)).toEqual(await rowsOf(demo.url));
    const db = await open(to);
    expect(await findBrokenRules(db)).toEqual([]);
    const papers = await readdir(join(folder, 'papers'));
    expect(papers.length).toBeGreaterThan(5);
    for (const fileName of papers) {
      const { rendering } = await db.document.findUniqueOrThrow({ where: { fileName }, include: { rendering: true } });
      const first = await readFile(join(folder, 'papers', fileName));
      expect(Buffer.from(rendering?.pdf ?? []).equals(first)).toBe(true);
      expect(rendering?.sha256).toBe(createHash('sha256').update(first).digest('hex'));
    }
  });

  test('is for its owner alone, leaves nothing beside it, says twice the same of the same, and replaces nothing', async () => {
    expect((await stat(demo.file)).mode & 0o777).toBe(0o600);
    expect((await readdir(folder)).filter((name) => name.startsWith('.'))).toEqual([]);
    const second = await makeBackup(demo.url, fresh(), NOW);
    expect(second.manifest).toEqual(await readManifest(demo.file));
    await expect(makeBackup(demo.url, demo.file, NOW)).rejects.toThrow('is there already');
    await expect(makeBackup(await makeDatabase(), fresh(), NOW)).rejects.toThrow('nothing to back up');
    await expect(makeBackup(demo.url, join(folder, 'no', 'such', 'place'), NOW)).rejects.toThrow(
      'Choose another folder',
    );
  });

  test('is of one moment, though people book and pay meanwhile; and the next receipt follows on', async () => {
    const course = await home.addCourse();
    let over = false;
    let booked = 0;
    const booking = (async () => {
      while (!over) {
        const answer = await owner.post('/api/people', {
          name: `Guest ${booked}`,
          email: null,
          phone: null,
          addressLines: [],
        });
        if (answer.statusCode === 201) booked++;
        await receiptFixture(owner, home).catch(() => undefined); // the limit of requests in a minute may come first
      }
    })();
    const backups: string[] = [];
    for (let i = 0; i < 3; i++)
      backups.push((await makeBackup(url, fresh(), NOW)) && join(folder, `backup-${files}.tar.gz`));
    over = true;
    await booking;
    expect(booked).toBeGreaterThan(0);
    for (const file of backups) {
      const to = await makeDatabase();
      await restoreBackup(to, file, { afterwards: [QUEUE_WAITING] });
      expect(await findBrokenRules(await open(to))).toEqual([]);
    }
    const to = await makeDatabase();
    await makeBackup(url, fresh(), NOW);
    await restoreBackup(to, join(folder, `backup-${files}.tar.gz`));
    const db = await open(to);
    const app = await buildApp({ db, now: clock.now });
    afterAll(() => app.close());
    const last = await db.receipt.aggregate({ _max: { number: true } });
    const there = owner.through(app);
    const paid = await payFor(there, await bookingFixture(there, course.id), 3000);
    expect(paid.statusCode, paid.body).toBe(201);
    expect((await db.receipt.aggregate({ _max: { number: true } }))._max.number).toBe((last._max.number ?? 0) + 1);
    expect(await findBrokenRules(db)).toEqual([]);
  });

  test('brings the waiting letters back to the queue, each once and under its Message-ID, and none that was sent', async () => {
    const from = await cloneTemplate();
    await restoreBackup(from, demo.file);
    const before = await open(from);
    const waiting = await before.notice.findMany({ where: { deliveries: { none: {} } }, orderBy: { id: 'asc' } });
    const [sent, failed, ...rest] = waiting;
    const outcome = (noticeId: string, result: 'sent' | 'failed') =>
      before.delivery.create({ data: { id: noticeId, noticeId, at: NOW, outcome: result, detail: 'as it was' } });
    await outcome(sent?.id ?? '', 'sent');
    await outcome(failed?.id ?? '', 'failed');
    const file = fresh();
    await makeBackup(from, file, NOW);
    const to = await makeDatabase();
    await restoreBackup(to, file, { afterwards: [QUEUE_WAITING, QUEUE_WAITING] });
    const db = await open(to);
    const server = await mailServer();
    const post = { db, now: () => NOW, transport: smtp(server.url), writesFiles: false, from: undefined };
    await workOnce(to, post, silent);
    await workOnce(to, post, silent);
    const reachable = new Set(
      (await db.person.findMany({ where: { email: { not: null } }, select: { id: true } })).map(({ id }) => id),
    );
    const expected = [failed, ...rest].filter((notice) => notice && reachable.has(notice.personId));
    expect(expected.length).toBeGreaterThan(2);
    expect(server.begun.toSorted()).toEqual(expected.map((notice) => notice?.messageId ?? '').toSorted());
  });
});

describe('a restore refuses, and writes nothing', () => {
  const refused = async (file: string, words: string | RegExp, migrations?: string) => {
    const to = await makeDatabase();
    const restoring = restoreBackup(to, file, migrations === undefined ? {} : { migrations });
    await expect(restoring).rejects.toThrow(words);
    await expect(restoring).rejects.toBeInstanceOf(CannotStart);
    expect(await tablesIn(to)).toBe(0);
  };
  const DAMAGED = /damaged, cut off or was changed/;

  test('what is no backup, or is not there', async () => {
    const other = join(folder, 'other.txt');
    await writeFile(other, 'a shopping list');
    await refused(other, DAMAGED);
    await refused(join(folder, 'nowhere'), 'There is no file');
    await refused(folder, 'There is no file');
  });

  test('a file cut off anywhere, or with a byte that differs', async () => {
    const whole = await readFile(demo.file);
    const unpacked = gunzipSync(whole);
    const manifest = JSON.stringify(await readManifest(demo.file));
    const copy = fresh();
    await fc.assert(
      fc.asyncProperty(
        fc.integer({ min: 0, max: whole.length - 1 }),
        fc.integer({ min: 1, max: 255 }),
        async (at, by) => {
          await writeFile(copy, whole);
          await truncate(copy, at);
          await expect(readManifest(copy)).rejects.toThrow(DAMAGED);
          const bytes = Buffer.from(whole);
          bytes[at] = (bytes[at] ?? 0) ^ by;
          await writeFile(copy, bytes);
          // a byte that says nothing (the time in gzip's header, bits that fill up the last byte of its codes) leaves the same content
          const read = await readManifest(copy).catch((error) => error);
          if (!(read instanceof CannotStart))
            expect([gunzipSync(bytes).equals(unpacked), JSON.stringify(read)]).toEqual([true, manifest]);
        },
      ),
      { numRuns: 40 },
    );
    await writeFile(copy, whole.subarray(0, whole.length / 2)); // the last change above may have been one that says nothing
    await refused(copy, DAMAGED);
  });

  test('a content that somebody changed, packed up again', async () => {
    const swap = (from: string, to: string) => (tar: Buffer) => {
      const at = tar.indexOf(from);
      expect(at).toBeGreaterThan(0);
      return Buffer.concat([tar.subarray(0, at), Buffer.from(to), tar.subarray(at + to.length)]);
    };
    await refused(await altered(demo.file, fresh(), swap('Ren Okoro', 'Ran Okoro')), DAMAGED);
    await refused(await altered(demo.file, fresh(), swap('"program": "0', '"program": "9')), DAMAGED);
    await refused(await altered(demo.file, fresh(), swap('SHA256SUMS', 'SHA256SUMZ')), DAMAGED);
    await refused(
      await altered(demo.file, fresh(), swap('wareboard-backup-1', 'wareboard-backup-2')),
      'not a backup that this',
    );
  });

  test('a backup newer than the program, and one whose migrations are others', async () => {
    const older = join(folder, 'older');
    await cp(MIGRATIONS, older, { recursive: true });
    await writeFile(join(older, names[0] ?? '', 'migration.sql'), '-- another beginning');
    await refused(demo.file, 'Install that version, restore, and upgrade', older);
    await rm(join(older, names.at(-1) ?? ''), { recursive: true });
    await refused(demo.file, `newer Wareboard (0.1.0, with ${names.at(-1)})`, older);
  });

  test('a place that is in use, or has newer tables', async () => {
    const before = await rowsOf(url);
    await expect(restoreBackup(url, demo.file)).rejects.toThrow(/This database is in use \(.+ and more\)/);
    expect(await rowsOf(url)).toEqual(before);
    const early = await makeDatabase();
    await migrate(early, MIGRATIONS, names.at(-2));
    const file = fresh();
    await makeBackup(early, file, NOW);
    const late = await cloneTemplate();
    await expect(restoreBackup(late, file)).rejects.toThrow('newer than the backup');
  });
});

test('a backup from before a migration is loaded as it was then, and brought up to date', async () => {
  const early = await makeDatabase();
  expect(await migrate(early, MIGRATIONS, names.at(-2))).toEqual(names.slice(0, -1));
  await withClient(early, (client) =>
    client.query(
      `INSERT INTO person (id, name, address_lines, created_at) VALUES (gen_random_uuid(), 'Ines Ostlemere', '{}', now())`,
    ),
  );
  const file = fresh();
  await makeBackup(early, file, NOW);
  const to = await makeDatabase();
  await restoreBackup(to, file);
  const db = await open(to);
  expect((await db.person.findMany()).map(({ name }) => name)).toEqual(['Ines Ostlemere']);
  expect(await migrate(to)).toEqual([]);
  expect(await findBrokenRules(db)).toEqual([]);
});

test('where a row is not what the tables take, the whole load is undone', async () => {
  const to = await cloneTemplate();
  await withClient(to, (client) => client.query(`ALTER TABLE person ADD CONSTRAINT nobody CHECK (name = '')`));
  await expect(restoreBackup(to, demo.file)).rejects.toThrow(/does not fit \(person\): .*Nothing was written/);
  const empty = await rowsOf(await cloneTemplate());
  expect(await rowsOf(to)).toEqual(empty);
});
