import { createHash, randomUUID } from 'node:crypto';
import { expect, test } from 'vitest';
import { getRendered } from '../../../src/studio/notices/rendering.js';
import { testApp } from '../../support/app.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { receiptFixture } from '../../support/fixtures/notices.js';

const { app, db, owner, tutor, clock } = await testApp();
const home = await coursesFixture(owner);

test('a paper is rendered once, also where many ask at once, and is shown the same for ever', async () => {
  const { documentId } = await receiptFixture(owner, home);
  const info = () => owner.get(`/api/documents/${documentId}`);
  expect((await info()).json()).toMatchObject({ id: documentId, kind: 'receipt', sha256: null });
  const all = await Promise.all(Array.from({ length: 8 }, () => getRendered(app, documentId)));
  const bytes = new Set(all.map(({ pdf }) => Buffer.from(pdf).toString('base64')));
  expect(bytes.size).toBe(1);
  expect(await db.rendering.count({ where: { documentId } })).toBe(1);

  await db.studio.update({ where: { id: 1 }, data: { name: 'Another name' } });
  const answer = await owner.get(`/api/documents/${documentId}/pdf`);
  await db.studio.update({ where: { id: 1 }, data: { name: 'Alder Lane Pottery' } });
  expect(bytes).toContain(answer.rawPayload.toString('base64'));
  expect(answer.headers['content-type']).toBe('application/pdf');
  const { sha256, fileName } = (await info()).json();
  expect(answer.headers['content-disposition']).toBe(`inline; filename="${fileName}"`);
  expect(sha256).toBe(createHash('sha256').update(answer.rawPayload).digest('hex'));
});

test('whoever renders second is shown what the first one stored', async () => {
  const { documentId } = await receiptFixture(owner, home);
  const pdf = new TextEncoder().encode('%PDF of another version of the program');
  const sha256 = createHash('sha256').update(pdf).digest('hex');
  await db.rendering.create({ data: { documentId, sha256, pdf, createdAt: clock.now() } });
  const tooEarly = db.$extends({
    query: { document: { findUnique: async ({ args, query }) => ({ ...(await query(args)), rendering: null }) } },
  });
  expect(await getRendered({ db: tooEarly as never, now: clock.now }, documentId)).toMatchObject({ pdf, sha256 });
});

test('neither what it says nor how it looked can be changed by hand', async () => {
  const { documentId } = await receiptFixture(owner, home);
  await getRendered(app, documentId);
  await expect(db.document.update({ where: { id: documentId }, data: { content: {} } })).rejects.toThrow();
  await expect(db.document.delete({ where: { id: documentId } })).rejects.toThrow();
  await expect(db.rendering.update({ where: { documentId }, data: { sha256: 'x' } })).rejects.toThrow();
  await expect(db.rendering.delete({ where: { documentId } })).rejects.toThrow();
});

test('notices and papers are the owner’s, and are looked for in vain', async () => {
  const { documentId, personId } = await receiptFixture(owner, home);
  for (const url of ['/api/notices', `/api/documents/${documentId}`, `/api/documents/${documentId}/pdf`])
    expect((await tutor.get(url)).statusCode, url).toBe(403);
  for (const url of [`/api/documents/${randomUUID()}`, `/api/documents/${randomUUID()}/pdf`])
    expect((await owner.get(url)).json()).toMatchObject({ type: '/problems/not-found', status: 404 });
  const { items } = (await owner.get(`/api/notices?personId=${personId}`)).json();
  expect(items.map(({ occasion }: { occasion: string }) => occasion)).toEqual(['booking', 'receipt', 'placeConfirmed']);
  expect((await owner.get('/api/notices?personId=me')).json()).toMatchObject({ status: 422 });
  const first = (await owner.get('/api/notices?limit=1')).json();
  expect((await owner.get(`/api/notices?limit=1&after=${first.next}`)).json().items[0].id).not.toBe(first.items[0].id);
});
