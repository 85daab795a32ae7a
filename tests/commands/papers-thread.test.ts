import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { simpleParser } from 'mailparser';
import { expect, test, vi } from 'vitest';
import { render } from '../../src/documents/render.js';
import { testApp } from '../support/app.js';
import { folder } from '../support/embedded.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { receiptFixture } from '../support/fixtures/notices.js';
import { overHttp } from '../support/over-http.js';
import { PATIENCE } from '../support/patience.js';
import { run } from '../support/program.js';

const { db, url, owner, ownerMember } = await testApp();
const home = await coursesFixture(owner);
const PROBE = fileURLToPath(new URL('../support/paper-thread-probe.mjs', import.meta.url));

/** How the program is started, with a thread for papers that dies at its first one. */
async function environment() {
  const data = await folder();
  const env = { DATABASE_URL: url, WAREBOARD_DATA: data, PORT: '0', NODE_OPTIONS: `--import ${PROBE}` };
  return { ...env, THREADS_FILE: join(data, 'threads') };
}
const threadsOf = async ({ THREADS_FILE }: { THREADS_FILE: string }) =>
  (await readFile(THREADS_FILE, 'utf8').catch(() => '')).split('\n').length - 1;

test('the API writes a paper in a thread; one that dies fails that request, in words, and the next gets its paper', async () => {
  const { documentId } = await receiptFixture(owner, home);
  const env = await environment();
  const program = run(['serve', '--only=api'], env);
  const [, address = ''] = await program.prints(/^Wareboard is at (http:\S+)$/m);
  const client = overHttp(address);
  const signedIn = await client.post('/api/sign-in', { email: ownerMember.email, password: 'a long test password' });
  expect(signedIn.statusCode).toBeLessThan(300);
  expect(await threadsOf(env)).toBe(0); // it costs nothing until a paper is wanted
  const broken = await client.get(`/api/documents/${documentId}/pdf`);
  expect(broken.statusCode).toBe(500);
  expect(broken.json().detail).toMatch(/^This paper was not finished: .* Open the paper again/);
  const { rawPayload, headers } = await client.get(`/api/documents/${documentId}/pdf`);
  expect(headers['content-type']).toBe('application/pdf');
  const { kind, content } = await db.document.findUniqueOrThrow({ where: { id: documentId } });
  expect(rawPayload.equals(await render(kind, content, null))).toBe(true);
  expect(await threadsOf(env)).toBe(2);
  program.process.kill('SIGTERM');
  expect(await program.ended).toBe(0);
});

test('a letter whose paper’s thread dies is sent at the next try, with its paper', async () => {
  const { noticeId, documentId } = await receiptFixture(owner, home);
  const env = await environment();
  const program = run(['serve', '--only=worker'], env);
  const outcomes = async () =>
    (await db.delivery.findMany({ where: { noticeId }, orderBy: { id: 'asc' } })).map(({ outcome }) => outcome);
  await vi.waitFor(async () => expect((await outcomes()).at(-1)).toBe('written'), PATIENCE);
  const failed = await db.delivery.findMany({ where: { outcome: 'failed' } });
  expect(failed.map(({ detail }) => detail)).toEqual([expect.stringMatching(/^This paper was not finished/)]);
  const outbox = join(env.WAREBOARD_DATA, 'outbox');
  const file = (await readdir(outbox)).find((name) => name.startsWith(noticeId)) ?? '';
  const { attachments } = await simpleParser(await readFile(join(outbox, file)));
  expect(attachments.map(({ content }) => content)).toEqual([
    (await owner.get(`/api/documents/${documentId}/pdf`)).rawPayload,
  ]);
  expect(await threadsOf(env)).toBe(2);
  program.process.kill('SIGTERM');
  expect(await program.ended).toBe(0);
});
