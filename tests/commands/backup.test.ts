import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, test, vi } from 'vitest';
import { openDatabase } from '../../src/database/client.js';
import { testApp } from '../support/app.js';
import { backupFolder } from '../support/backup.js';
import { makeDatabase } from '../support/database.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { receiptFixture } from '../support/fixtures/notices.js';
import { mailServer } from '../support/mail-server.js';
import { PATIENCE } from '../support/patience.js';
import { run } from '../support/program.js';

const { url, db: from, owner } = await testApp();
const folder = await backupFolder();
const file = join(folder, 'studio.tar.gz');

async function said(args: string[], env: Record<string, string> = {}) {
  const program = run(args, env);
  const code = await program.ended;
  return { code, out: program.out(), err: program.err() };
}

test('backup, check, restore, serve: the waiting letters leave once', async () => {
  const { noticeId } = await receiptFixture(owner, await coursesFixture(owner));
  const made = await said(['backup', file], { DATABASE_URL: url });
  expect(made).toMatchObject({ code: 0, err: '' });
  expect(made.out).toMatch(/^Backed up to .*studio\.tar\.gz: \d+ rows in \d+ tables, 0\.\d MB, in [\d.]+ s\./);
  expect(made.out).toContain('encrypt it before it goes anywhere else');
  const checked = await said(['restore', '--check', file]);
  expect(checked.code).toBe(0);
  const [, sum = ''] = made.out.match(/SHA-256 is (\w{64})/) ?? [];
  expect(checked.out).toContain(sum);

  const to = await makeDatabase();
  const back = await said(['restore', file], { DATABASE_URL: to });
  expect(back).toMatchObject({ code: 0, err: '' });
  expect(back.out).toMatch(/3 emails had not been sent by then, .* without SMTP_URL/);
  expect(back.out).toContain('All is well');

  const mail = await mailServer();
  const env = {
    DATABASE_URL: to,
    WAREBOARD_DATA: folder,
    PORT: '0',
    SMTP_URL: mail.url,
    MAIL_FROM: 'bench@ostlemere.example',
  };
  const serving = run(['serve'], env);
  await serving.prints(/^Wareboard is at /m);
  await vi.waitFor(() => expect(mail.taken).toHaveLength(3), PATIENCE);
  serving.process.kill('SIGTERM');
  expect(await serving.ended).toBe(0);
  expect(mail.begun).toHaveLength(3);
  expect(mail.begun).toContain(`<${noticeId}@wareboard>`);
  const { db, close } = await openDatabase(to);
  expect(await db.delivery.count({ where: { outcome: 'sent' } })).toBe(3);
  const signedIn = await Promise.all([db, from].map((each) => each.signIn.count()));
  expect(signedIn).toEqual([0, 2]); // whoever was signed in then is not signed in by that
  await close();
});

test('what is refused is said in one sentence, and the process fails', async () => {
  expect(await said(['backup', file], { DATABASE_URL: url })).toMatchObject({
    code: 1,
    err: 'studio.tar.gz is there already. Choose another name: a backup never replaces a file.\n',
  });
  expect(await said(['restore', file], { DATABASE_URL: url })).toMatchObject({
    code: 1,
    err: expect.stringMatching(/^This database is in use .*\n$/),
  });
  const damaged = join(folder, 'damaged.tar.gz');
  await writeFile(damaged, (await readFile(file)).subarray(0, -1));
  expect(await said(['restore', damaged, '--check'])).toMatchObject({
    code: 1,
    err: expect.stringMatching(/^The backup is damaged, cut off or was changed.*\n$/),
  });
});
