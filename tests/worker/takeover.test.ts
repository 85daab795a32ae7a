import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';
import { pino } from 'pino';
import { afterEach, describe, expect, test, vi } from 'vitest';
import { smtp } from '../../src/mail/smtp.js';
import { startWorker } from '../../src/worker/worker.js';
import { testApp } from '../support/app.js';
import { bookingFixture } from '../support/fixtures/bookings.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { lineTo } from '../support/line.js';
import { mailServer } from '../support/mail-server.js';
import { PATIENCE } from '../support/patience.js';

const { db, url, owner, clock } = await testApp();
const home = await coursesFixture(owner);
const SCRIPT = fileURLToPath(new URL('../support/worker-process.mjs', import.meta.url));
const RHYTHM = { sweepMilliseconds: 500, graceMilliseconds: 1500 };
const silent = pino({ level: 'silent' });
const from = { name: 'Alder Lane Pottery', address: 'bench@alderlane.example' };
const children = new Set<ChildProcess>();

afterEach(async () => {
  for (const child of children) await kill(child);
});

async function worker(smtpUrl: string, databaseUrl = url): Promise<ChildProcess> {
  const child = spawn(process.execPath, [SCRIPT, JSON.stringify(RHYTHM)], {
    env: { ...process.env, DATABASE_URL: databaseUrl, SMTP_URL: smtpUrl },
    stdio: ['ignore', 'pipe', 'ignore'],
  });
  children.add(child);
  await once(child.stdout, 'data');
  return child;
}

async function kill(child: ChildProcess): Promise<void> {
  children.delete(child);
  if (child.exitCode !== null || child.signalCode !== null) return;
  child.kill('SIGKILL');
  await once(child, 'exit');
}

/** A letter on its way: the confirmation of a booking. @returns its Message-ID */
async function letter(): Promise<string> {
  const booking = await bookingFixture(owner, (await home.addCourse()).id);
  const notice = await db.notice.findFirstOrThrow({ where: { personId: booking.payerId } });
  return notice.messageId;
}
const outcomes = (messageId: string) =>
  db.delivery.findMany({ where: { notice: { messageId } }, select: { outcome: true } });
const jobs = () => db.$queryRaw`SELECT id FROM graphile_worker._private_jobs WHERE task_id =
  (SELECT id FROM graphile_worker._private_tasks WHERE identifier = 'deliver-notice')`;

/** How many workers hold the lock under their name. */
const present = async () =>
  (
    await db.$queryRaw<{ count: number }[]>`SELECT count(*)::int FROM pg_locks WHERE locktype = 'advisory' AND granted
    AND database = (SELECT oid FROM pg_database WHERE datname = current_database())`
  )[0]?.count;

/** A mail server that keeps the first who hands a letter over waiting, until it is let go. */
async function slowServer() {
  let release: () => void = () => undefined;
  const held = new Promise<void>((resolve) => {
    release = resolve;
  });
  const server = await mailServer((_, nth) => (nth === 1 ? held : undefined));
  return { server, release };
}

describe('two workers', () => {
  test('one is killed in the middle of a letter: the other takes it over, under the same Message-ID', async () => {
    const { server } = await slowServer();
    const first = await worker(server.url);
    const messageId = await letter();
    await vi.waitFor(() => expect(server.begun).toEqual([messageId]), PATIENCE);
    await worker(server.url);
    await kill(first);
    // by itself the queue would give a dead worker's letter to another after four hours
    await vi.waitFor(async () => expect(await outcomes(messageId)).toEqual([{ outcome: 'sent' }]), PATIENCE);
    expect(server.begun).toEqual([messageId, messageId]);
    expect(server.taken.map((mail) => mail.messageId)).toEqual([messageId]);
    await vi.waitFor(async () => expect(await jobs()).toEqual([]), PATIENCE);
  });

  test('one is slow and alive: it keeps its letter', async () => {
    const { server, release } = await slowServer();
    await worker(server.url);
    const messageId = await letter();
    await vi.waitFor(() => expect(server.begun).toEqual([messageId]), PATIENCE);
    await worker(server.url);
    await new Promise((resolve) => setTimeout(resolve, 4 * (RHYTHM.sweepMilliseconds + RHYTHM.graceMilliseconds)));
    expect(server.begun).toEqual([messageId]);
    release();
    await vi.waitFor(async () => expect(await outcomes(messageId)).toEqual([{ outcome: 'sent' }]), PATIENCE);
    expect(server.begun).toEqual([messageId]);
  });

  test('one loses its connections and finds them again: it keeps its letter, and goes on working', async () => {
    const { server, release } = await slowServer();
    const line = await lineTo(url);
    await worker(server.url, line.url);
    const messageId = await letter();
    await vi.waitFor(() => expect(server.begun).toEqual([messageId]), PATIENCE);
    await line.cut();
    await vi.waitFor(async () => expect(await present()).toBe(0), PATIENCE);
    await line.mend();
    await vi.waitFor(async () => expect(await present()).toBe(1), PATIENCE); // the other looks for it only then
    await worker(server.url);
    await new Promise((resolve) => setTimeout(resolve, 3 * (RHYTHM.sweepMilliseconds + RHYTHM.graceMilliseconds)));
    expect(server.begun).toEqual([messageId]);
    release();
    await vi.waitFor(async () => expect(await outcomes(messageId)).toEqual([{ outcome: 'sent' }]), PATIENCE);
    for (const child of [...children].slice(1)) await kill(child);
    const next = await letter();
    await vi.waitFor(async () => expect(await outcomes(next)).toEqual([{ outcome: 'sent' }]), PATIENCE);
  });
});

test('a worker whose database is away for long takes no job meanwhile, works again when it is back, and stops', async () => {
  const server = await mailServer();
  const line = await lineTo(url);
  const post = { db, now: clock.now, transport: smtp(server.url), writesFiles: false, from };
  const running = await startWorker(line.url, post, silent, RHYTHM);
  await line.cut();
  const messageId = await letter();
  await new Promise((resolve) => setTimeout(resolve, 3000));
  expect(server.begun).toEqual([]);
  await line.mend();
  await vi.waitFor(() => expect(server.begun).toEqual([messageId]), PATIENCE);
  await line.cut();
  await running.stop();
});
