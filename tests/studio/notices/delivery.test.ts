import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { simpleParser } from 'mailparser';
import { expect, test } from 'vitest';
import { outboxFolder } from '../../../src/mail/outbox-folder.js';
import type { Post } from '../../../src/mail/post.js';
import { MailNotSent, type MailTransport } from '../../../src/mail/transport.js';
import { noticeTasks } from '../../../src/studio/notices/jobs.js';
import { testApp } from '../../support/app.js';
import { folder } from '../../support/embedded.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { receiptFixture } from '../../support/fixtures/notices.js';

const { db, owner, clock } = await testApp();
const home = await coursesFixture(owner);
const outbox = await folder();
const post = (changes: Partial<Post> = {}): Post => ({
  ...{ db, now: clock.now, transport: outboxFolder(outbox), writesFiles: true, from: undefined },
  ...changes,
});
/** What the worker does for a job of this notice. */
const deliver = (through: Post, noticeId: string) => noticeTasks(through)['deliver-notice']({ noticeId });
const failing = (lasting: boolean): MailTransport => ({
  send: () => Promise.reject(new MailNotSent('The mail server is away.', lasting)),
});
const written = async (noticeId: string) => (await readdir(outbox)).filter((name) => name.startsWith(noticeId));
const stateOf = async (noticeId: string) => {
  const { items } = (await owner.get('/api/notices?limit=200')).json();
  return items.find(({ id }: { id: string }) => id === noticeId);
};

test('a letter is written once, with its paper, however often its delivery is tried', async () => {
  const { noticeId, documentId } = await receiptFixture(owner, home);
  expect(await stateOf(noticeId)).toMatchObject({ state: 'waiting', deliveries: [] });
  await deliver(post(), noticeId);
  await deliver(post(), noticeId);
  const [file, ...more] = await written(noticeId);
  expect(more).toEqual([]);
  const mail = await simpleParser(await readFile(join(outbox, file ?? '')));
  expect(mail.messageId).toBe(`<${noticeId}@wareboard>`);
  expect(mail.from?.value).toEqual([{ name: 'Alder Lane Pottery', address: 'hello@alderlane.example' }]);
  expect(mail.attachments).toHaveLength(1);
  const [paper] = mail.attachments;
  expect(paper).toMatchObject({ contentType: 'application/pdf', filename: expect.stringMatching(/\.pdf$/) });
  expect(paper?.content).toEqual((await owner.get(`/api/documents/${documentId}/pdf`)).rawPayload);
  const { state, deliveries } = await stateOf(noticeId);
  expect([state, deliveries.length]).toEqual(['written', 1]);
  expect(deliveries[0].detail).toBe(join(outbox, file ?? ''));
});

test('a server that is away is noted and tried again, under the same Message-ID', async () => {
  const { noticeId } = await receiptFixture(owner, home);
  await expect(deliver(post({ transport: failing(false) }), noticeId)).rejects.toThrow('The mail server is away.');
  expect(await stateOf(noticeId)).toMatchObject({
    state: 'failed',
    deliveries: [{ detail: 'The mail server is away.' }],
  });
  await deliver(post(), noticeId);
  expect(await stateOf(noticeId)).toMatchObject({
    state: 'written',
    deliveries: [{ outcome: 'failed' }, { outcome: 'written' }],
  });
  const mail = await simpleParser(await readFile(join(outbox, (await written(noticeId))[0] ?? '')));
  expect(mail.messageId).toBe(`<${noticeId}@wareboard>`);
});

test('an address that the server will never take is noted, and the queue is not kept busy with it', async () => {
  const { noticeId } = await receiptFixture(owner, home);
  await deliver(post({ transport: failing(true) }), noticeId);
  expect(await stateOf(noticeId)).toMatchObject({ state: 'failed' });
});

test('where nobody can be written to, or nobody writes, that is said', async () => {
  const { noticeId, personId } = await receiptFixture(owner, home);
  await owner.put(`/api/people/${personId}`, { name: 'Ines Duval' });
  await deliver(post(), noticeId);
  expect(await stateOf(noticeId)).toMatchObject({
    state: 'noAddress',
    deliveries: [{ detail: expect.stringContaining('Print it') }],
  });
  expect(await written(noticeId)).toEqual([]);

  const other = await receiptFixture(owner, home);
  await db.studio.update({ where: { id: 1 }, data: { email: null } });
  await expect(deliver(post(), other.noticeId)).rejects.toThrow('No sender address'); // so that the queue keeps it
  const { failed } = (await owner.get('/api/today')).json().mail;
  expect(failed).toContainEqual(
    expect.objectContaining({ noticeId: other.noticeId, detail: expect.stringContaining('MAIL_FROM') }),
  );
  await db.studio.update({ where: { id: 1 }, data: { email: 'hello@alderlane.example' } });
  expect(await stateOf(other.noticeId)).toMatchObject({
    state: 'failed',
    deliveries: [{ detail: expect.stringContaining('MAIL_FROM') }],
  });
  await deliver(post(), other.noticeId);
  expect(await stateOf(other.noticeId)).toMatchObject({ state: 'written' });
});

test('a letter tells what was so when it was written, whatever changed since', async () => {
  const { noticeId, personId } = await receiptFixture(owner, home);
  await owner.put(`/api/people/${personId}`, { name: 'Ines Reyl', email: 'new@example.org' });
  await db.course.updateMany({ data: { title: 'Something else' } });
  await deliver(post(), noticeId);
  const mail = await simpleParser(await readFile(join(outbox, (await written(noticeId))[0] ?? '')));
  expect(mail.text).not.toContain('Something else');
  expect([mail.to].flat()[0]?.value[0]?.address).toBe('new@example.org'); // and goes to where they are reached now
});
