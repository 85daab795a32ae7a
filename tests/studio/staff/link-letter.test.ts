import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { simpleParser } from 'mailparser';
import { pino } from 'pino';
import { expect, test } from 'vitest';
import { outboxFolder } from '../../../src/mail/outbox-folder.js';
import type { Post } from '../../../src/mail/post.js';
import { MailNotSent, type MailTransport } from '../../../src/mail/transport.js';
import { workOnce } from '../../../src/worker/worker.js';
import { testApp } from '../../support/app.js';
import { folder } from '../../support/embedded.js';
import { studioFixture } from '../../support/fixtures.js';

const { db, url, owner, clock } = await testApp();
const outbox = await folder();
const written: MailTransport = outboxFolder(outbox);
/** Works through the queue as the worker does. */
const work = async (transport = written) => {
  await db.$executeRaw`UPDATE graphile_worker._private_jobs SET run_at = now()`; // a try that failed waits for a while
  const post: Post = { db, now: clock.now, transport, writesFiles: true, from: undefined };
  await workOnce(url, post, pino({ level: 'silent' }));
};
const failing = (lasting: boolean): MailTransport => ({
  send: () => Promise.reject(new MailNotSent('The mail server is away.', lasting)),
});
let count = 0;
const invite = async () => {
  const wanted = { name: 'Ossian Vey', email: `ossian${++count}@alderlane.example`, role: 'tutor' };
  return (await owner.post('/api/staff', wanted)).json();
};
const mailOf = async (id: string) =>
  (await owner.get('/api/staff')).json().items.find((one: { id: string }) => one.id === id).passwordLink?.mail;
const letters = async (to: string) => {
  const mails = await Promise.all(
    (await readdir(outbox)).map(async (name) => simpleParser(await readFile(join(outbox, name)))),
  );
  return mails.filter((mail) => [mail.to].flat().some((one) => one?.text.includes(to)));
};
const queued = async () =>
  (await db.$queryRaw<{ n: number }[]>`SELECT count(*)::int AS n FROM graphile_worker.jobs`)[0]?.n;

test('waits until there is a studio to write as', async () => {
  const { id, email } = await invite();
  await work();
  expect(await mailOf(id)).toMatchObject({
    state: 'failed',
    detail: expect.stringContaining('enter the studio first'),
  });
  await studioFixture(owner);
  await work();
  expect(await mailOf(id)).toMatchObject({ state: 'written', detail: expect.stringContaining(outbox) });
  expect(await letters(email)).toHaveLength(1);
});

test('tells who invites, gives the link and says until when it works', async () => {
  const { email, linkAddress, id } = await invite();
  expect(await queued()).toBe(1);
  await work();
  const [letter] = await letters(email);
  expect(letter?.from?.value).toEqual([{ name: 'Alder Lane Pottery', address: 'hello@alderlane.example' }]);
  expect(letter?.subject).toBe('Your invitation to work with Alder Lane Pottery');
  expect(letter?.text).toContain(linkAddress);
  expect(letter?.text).toContain('Dear Ossian Vey,');
  expect(letter?.text?.replace(/\s+/g, ' ')).toContain('Test owner invites you to use Wareboard');
  expect(letter?.text?.replace(/\s+/g, ' ')).toContain('until Tuesday 17 March 2026, 09:00');
  expect(await queued()).toBe(0); // the link is kept nowhere any more
  await work();
  expect(await letters(email)).toHaveLength(1);

  const lost = (await owner.post(`/api/staff/${id}/password-link`)).json();
  await work();
  const second = (await letters(email)).find((mail) => mail.messageId !== letter?.messageId);
  expect(second?.text).toContain(lost.linkAddress);
});

test('of a link that was withdrawn, renewed or used meanwhile does not leave', async () => {
  const [withdrawn, renewed, used] = [await invite(), await invite(), await invite()];
  await owner.post(`/api/staff/${withdrawn.id}/removal`);
  const fresh = (await owner.post(`/api/staff/${renewed.id}/password-link`)).json();
  const token = new URL(used.linkAddress).hash.slice(1);
  await owner.post('/api/password-link/use', { token, password: 'wheel and kiln' });
  await work();
  expect(await letters(withdrawn.email)).toEqual([]);
  expect(await letters(used.email)).toEqual([]);
  const [only, ...more] = await letters(renewed.email);
  expect(more).toEqual([]);
  expect(only?.text).toContain(fresh.linkAddress);
  expect(only?.text).not.toContain(renewed.linkAddress);
});

test('is tried again while the server is away, and not where it never takes the address', async () => {
  const { id, email } = await invite();
  await work(failing(false));
  expect(await mailOf(id)).toEqual({ state: 'failed', detail: 'The mail server is away.' });
  expect(await queued()).toBe(1);
  await work();
  expect(await mailOf(id)).toMatchObject({ state: 'written' });
  expect(await letters(email)).toHaveLength(1);
  const never = await invite();
  await work(failing(true));
  expect(await mailOf(never.id)).toMatchObject({ state: 'failed' });
  expect(await queued()).toBe(0);
});
