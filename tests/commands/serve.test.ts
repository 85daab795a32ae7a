import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { pino } from 'pino';
import { expect, test, vi } from 'vitest';
import { startWorker } from '../../src/worker/worker.js';
import { testApp } from '../support/app.js';
import { folder } from '../support/embedded.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { receiptFixture } from '../support/fixtures/notices.js';
import { mailServer } from '../support/mail-server.js';
import { PATIENCE } from '../support/patience.js';
import { run } from '../support/program.js';

const { db, url, owner } = await testApp();
const data = await folder();
const mail = await mailServer();
const env = {
  DATABASE_URL: url,
  WAREBOARD_DATA: data,
  PORT: '0',
  SMTP_URL: mail.url,
  MAIL_FROM: 'bench@ostlemere.example',
};

test('the halves run apart: the API delivers nothing, the worker has no address, and both stop when they are asked', async () => {
  const { noticeId } = await receiptFixture(owner, await coursesFixture(owner));
  const api = run(['serve', '--only=api'], env);
  const [, address = ''] = await api.prints(/^Wareboard is at (http:\S+)$/m);
  expect((await fetch(`${address}/ready`)).status).toBe(200);
  expect(await db.delivery.count()).toBe(0);
  const worker = run(['serve', '--only', 'worker'], env);
  await worker.prints(/^Wareboard is sending queued emails\.$/m);
  await vi.waitFor(async () => expect(await db.delivery.count({ where: { noticeId } })).toBe(1), PATIENCE);
  await vi.waitFor(
    async () => expect(await readFile(join(data, 'worker-alive'), 'utf8')).toMatch(/^\d{4}-.*Z\n$/),
    PATIENCE,
  );
  expect(worker.out()).not.toMatch(/Wareboard is at|http/);
  for (const program of [worker, api]) {
    program.process.kill('SIGTERM');
    expect(await program.ended).toBe(0);
  }
});

test('another half is refused', async () => {
  const program = run(['serve', '--only=desk'], env);
  expect(await program.ended).toBe(1);
  expect(program.err()).toContain('Allowed choices are api, worker');
});

test('a worker says that it is alive at each look', async () => {
  const post = { ...{ db, now: () => new Date(), writesFiles: false, from: undefined }, transport: { send: vi.fn() } };
  const alive = vi.fn();
  const rhythm = { sweepMilliseconds: 50, graceMilliseconds: 0, alive };
  const worker = await startWorker(url, post, pino({ level: 'silent' }), rhythm);
  await vi.waitFor(() => expect(alive.mock.calls.length).toBeGreaterThan(2), PATIENCE);
  await worker.stop();
});
