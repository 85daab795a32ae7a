import { once } from 'node:events';
import { PassThrough } from 'node:stream';
import { pino } from 'pino';
import { describe, expect, test, vi } from 'vitest';
import { inTransaction } from '../../src/database/transaction.js';
import type { Post } from '../../src/mail/post.js';
import { MailNotSent } from '../../src/mail/transport.js';
import { bookingTasks } from '../../src/studio/bookings/jobs.js';
import { notify } from '../../src/studio/notices/service.js';
import { startWorker, workOnce } from '../../src/worker/worker.js';
import { testApp } from '../support/app.js';
import { bookingFixture } from '../support/fixtures/bookings.js';
import { coursesFixture } from '../support/fixtures/courses.js';
import { receiptFixture } from '../support/fixtures/notices.js';

const { db, url, owner, clock } = await testApp();
const home = await coursesFixture(owner);
const silent = pino({ level: 'silent' });

/** A road for letters that keeps them, and can be held up. */
function road() {
  const sent: string[] = [];
  const gate = { open: Promise.resolve(), began: 0 };
  const post: Post = {
    ...{ db, now: clock.now, writesFiles: false, from: undefined },
    transport: {
      async send({ messageId }) {
        gate.began++;
        await gate.open;
        sent.push(messageId);
        return { where: 'the road' };
      },
    },
  };
  return { post, sent, gate };
}
const idOf = (noticeId: string) => `<${noticeId}@wareboard>`;

describe('the worker', () => {
  test('delivers what was written once it was committed, and nothing that was rolled back', async () => {
    const { post, sent } = road();
    const worker = await startWorker(url, post, silent);
    const { noticeId, personId } = await receiptFixture(owner, home);
    await vi.waitFor(() => expect(sent).toContain(idOf(noticeId)), { timeout: 300_000 });
    const earlier = await db.notice.findUniqueOrThrow({ where: { id: noticeId } });
    const ids: string[] = [];
    const write = (fail: boolean) =>
      inTransaction(db, async (tx) => {
        ids.push(await notify(tx, clock.now(), { personId, occasion: 'receipt', data: earlier.data as object }));
        await new Promise((resolve) => setTimeout(resolve, 300)); // time enough for a worker that looks too early
        expect(sent).not.toContain(idOf(ids.at(-1) ?? ''));
        if (fail) throw new Error('thought better of it');
      });
    await expect(write(true)).rejects.toThrow('thought better of it');
    await write(false);
    await vi.waitFor(() => expect(sent).toContain(idOf(ids[1] ?? '')), { timeout: 300_000 });
    await worker.stop();
    expect(sent).not.toContain(idOf(ids[0] ?? ''));
    expect(new Set(sent).size).toBe(sent.length);
  });

  test('finishes the job under way when it is stopped, and begins no other', async () => {
    const { post, sent, gate } = road();
    let open: () => void = () => undefined;
    gate.open = new Promise((resolve) => {
      open = resolve;
    });
    const { noticeId } = await receiptFixture(owner, home);
    const worker = await startWorker(url, post, silent);
    await vi.waitFor(() => expect(gate.began).toBe(2), { timeout: 300_000 }); // a booking and its receipt, two at once
    let over = false;
    const stopped = worker.stop().then(() => {
      over = true;
    });
    const late = await receiptFixture(owner, home);
    await new Promise((resolve) => setTimeout(resolve, 300));
    expect([over, sent]).toEqual([false, []]);
    open();
    await stopped;
    expect(sent).toHaveLength(2);
    expect(sent).toContain(idOf(noticeId));
    await workOnce(url, post, silent);
    expect(sent).toContain(idOf(late.noticeId));
    expect(new Set(sent).size).toBe(sent.length);
  });

  test('tries again what failed, and tells the log of the job and not of the person', async () => {
    const { post, sent } = road();
    const { send } = post.transport;
    let failures = 1;
    post.transport.send = (mail) =>
      failures-- > 0 ? Promise.reject(new MailNotSent(`no road to ${mail.to}`, false)) : send(mail);
    const { noticeId, personId } = await receiptFixture(owner, home);
    const person = await db.person.findUniqueOrThrow({ where: { id: personId } });
    const lines = new PassThrough();
    await workOnce(url, post, pino({ level: 'trace' }, lines));
    await once(lines, 'readable');
    const said = String(lines.read());
    expect(said).toContain('"task":"deliver-notice"');
    expect(said).toContain('"name":"MailNotSent"');
    for (const theirs of [person.email ?? '', person.name, noticeId]) expect(said).not.toContain(theirs);
    await db.$executeRaw`UPDATE graphile_worker._private_jobs SET run_at = now()`;
    await workOnce(url, post, silent);
    expect(sent).toContain(idOf(noticeId));
    expect(await db.delivery.count({ where: { notice: { personId }, outcome: 'failed' } })).toBe(1);
  });

  test('frees places whose deposit did not come', async () => {
    const booking = await bookingFixture(owner, (await home.addCourse()).id);
    const state = async () => (await owner.get(`/api/bookings/${booking.id}`)).json().state;
    const tasks = bookingTasks(db, clock.now);
    await tasks['release-holds']();
    expect(await state()).toBe('provisional');
    await clock.set('2026-03-12T09:00:01Z'); // held for 48 hours from 10 March, 09:00
    const { post } = road();
    await db.$executeRaw`SELECT 1 FROM graphile_worker.add_job('release-holds')`;
    await workOnce(url, post, silent);
    expect(await state()).toBe('cancelled');
  });
});
