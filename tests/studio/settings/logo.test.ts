import { randomUUID } from 'node:crypto';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { makeBackup } from '../../../src/database/backup/make.js';
import { restoreBackup } from '../../../src/database/backup/restore.js';
import { inTransaction } from '../../../src/database/transaction.js';
import { replaceLogo } from '../../../src/studio/settings/logo.js';
import { getPaperHead } from '../../../src/studio/settings/paper-head.js';
import { signIn } from '../../../src/studio/staff/sign-in.js';
import { type PlacedPicture, readBack, readPictures } from '../../documents/read-back.js';
import { testApp } from '../../support/app.js';
import { backupFolder, rowsOf } from '../../support/backup.js';
import { cloneTemplate } from '../../support/database.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { materialFixture } from '../../support/fixtures/materials.js';
import { batchFixture, mixFixture } from '../../support/fixtures/mixes.js';
import { receiptFixture } from '../../support/fixtures/notices.js';
import { IRON, JPEG, logoPng } from '../../support/pictures.js';

const { app, db, url, clock, owner, tutor, ownerMember, tutorMember } = await testApp();
const sessionOf = (email: string) => signIn(db, clock.now(), { email, password: 'a long test password' });
const [ours, theirs] = [await sessionOf(ownerMember.email), await sessionOf(tutorMember.email)];
const beforeSetUp = await send(logoPng());
const home = await coursesFixture(owner);

function send(payload?: Buffer, type = 'image/png', key: string = randomUUID(), session = ours) {
  return app.inject({
    ...{ method: 'POST', url: '/api/studio/logo', ...(payload && { payload }) },
    headers: {
      ...{ cookie: `wareboard=${session}`, 'sec-fetch-site': 'same-origin', 'idempotency-key': `"${key}"` },
      ...(payload && { 'content-type': type }),
    },
  });
}
const remove = () => owner.post('/api/studio/logo/removal');
const current = async () => (await owner.get('/api/studio/logo')).json().logo;
const pictureOf = async () => owner.get(`/api/studio/logos/${(await current()).sha256}`);
const printOn = async (paperSize: string) =>
  owner.put('/api/studio', { ...((await owner.get('/api/studio')).json() as object), paperSize });
const pdfOf = async (documentId: string) => (await owner.get(`/api/documents/${documentId}/pdf`)).rawPayload;

/** The width of a paper, and the shape of the picture on it. */
async function lookOf(pdf: Uint8Array): Promise<{ width: number; pixels: PlacedPicture['pixels'] | null }> {
  const [{ pages }, [first = []]] = [await readBack(pdf), await readPictures(pdf)];
  return { width: Math.round(pages[0]?.width ?? 0), pixels: first[0]?.pixels ?? null };
}

describe('the logo', () => {
  test('is looked for in vain before there is one, and is set once the studio is entered', async () => {
    expect(beforeSetUp.json()).toMatchObject({ type: '/problems/set-up-missing', page: 'studio' });
    expect(await current()).toBeNull();
    expect((await owner.get(`/api/studio/logos/${'0'.repeat(64)}`)).statusCode).toBe(404);
    expect((await remove()).json()).toEqual({ logo: null });
  });

  test('is kept as it is seen on paper, and shown as what it is', async () => {
    const answer = await send(logoPng(300, 150));
    expect(answer.statusCode).toBe(201);
    expect(answer.json().logo).toEqual({
      ...{ mediaType: 'image/png', widthPx: 300, heightPx: 150, addedAt: '2026-03-10T09:00:00.000Z' },
      sha256: expect.stringMatching(/^[0-9a-f]{64}$/),
    });
    expect(await current()).toEqual(answer.json().logo);
    const shown = await pictureOf();
    expect(shown.headers).toMatchObject({ 'content-type': 'image/png', 'x-content-type-options': 'nosniff' });
    expect(shown.rawPayload.subarray(1, 4).toString()).toBe('PNG');
    expect((await send(JPEG, 'image/png')).json().logo).toMatchObject({ mediaType: 'image/jpeg', widthPx: 48 });
    expect((await pictureOf()).headers['content-type']).toBe('image/jpeg');
  });

  test.each<[string, Buffer | undefined, string, RegExp]>([
    ['of another kind', Buffer.from('<svg onload="alert(1)">'), 'image/png', /not a PNG or a JPEG\. Save the logo as/],
    ['cut off', logoPng().subarray(0, 300), 'image/png', /damaged or cut off\. Save it again/],
    ['a JPEG that is cut off', JPEG.subarray(0, 400), 'image/jpeg', /damaged or cut off/],
    ['of too many pixels', logoPng(1201, 20), 'image/png', /1201 by 20 pixels\. Make it at most 1200/],
    ['that nobody would see on paper', logoPng(80, 40, [255, 255, 255, 255]), 'image/png', /light background/],
    ['nothing at all', undefined, 'image/png', /cut off/],
  ])('%s is refused, and the one before stays', async (_, bytes, type, words) => {
    await send(logoPng(120, 60));
    const answer = await send(bytes, type);
    expect(answer.json()).toMatchObject({
      status: 422,
      type: '/problems/invalid-request',
      detail: expect.stringMatching(words),
    });
    expect(await current()).toMatchObject({ widthPx: 120 });
  });

  test('is refused where it is called something else, or is too large', async () => {
    expect((await send(logoPng(), 'image/gif')).json()).toMatchObject({
      ...{ status: 415, detail: 'Send the logo as image/png or image/jpeg.' },
    });
    const padded = (length: number) => Buffer.concat([JPEG, Buffer.alloc(length - JPEG.length)]);
    expect((await send(padded(500_001), 'image/jpeg')).json()).toMatchObject({
      ...{ status: 413, detail: 'The logo is larger than 500 KB. Make it smaller and send it again.' },
    });
    expect((await send(padded(500_000), 'image/jpeg')).statusCode).toBe(201); // what follows the picture is left behind
  });

  test('is the owner’s to change and to see', async () => {
    expect((await send(logoPng(), 'image/png', randomUUID(), theirs)).statusCode).toBe(403);
    for (const path of ['/api/studio/logo', `/api/studio/logos/${'0'.repeat(64)}`])
      expect((await tutor.get(path)).statusCode).toBe(403);
    expect((await tutor.post('/api/studio/logo/removal')).statusCode).toBe(403);
  });

  test('is set once, however often it is sent; another under the same key is refused', async () => {
    const key = randomUUID();
    const answers = await Promise.all([1, 2, 3].map(() => send(logoPng(90, 90), 'image/png', key)));
    expect(new Set(answers.map(({ body }) => body)).size).toBe(1);
    expect((await send(JPEG, 'image/jpeg', key)).json()).toMatchObject({ type: '/problems/key-reused' });
  });

  test('that no paper shows is forgotten when it is replaced or removed', async () => {
    const before = (await send(logoPng(77, 33))).json().logo.sha256;
    await send(logoPng(78, 33));
    expect(await db.logo.findUnique({ where: { sha256: before } })).toBeNull();
    expect((await remove()).json()).toEqual({ logo: null });
    expect(await db.logo.count()).toBe(0);
  });
});

describe('a paper that was issued', () => {
  test('stays as it was, byte by byte, whatever the studio shows by now', async () => {
    await send(logoPng(200, 100));
    const [drawn, undrawn] = [await receiptFixture(owner, home), await receiptFixture(owner, home)];
    const before = await pdfOf(drawn.documentId);
    await send(logoPng(60, 120, IRON));
    expect((await printOn('LETTER')).json()).toMatchObject({ paperSize: 'LETTER' });
    expect(await pdfOf(drawn.documentId)).toEqual(before);
    // drawn for the first time by now, it shows what it was issued with
    expect(await lookOf(await pdfOf(undrawn.documentId))).toEqual({ width: 420, pixels: [200, 100] });
    const later = await receiptFixture(owner, home);
    expect(await lookOf(await pdfOf(later.documentId))).toEqual({ width: 396, pixels: [60, 120] });
    await remove();
    await printOn('A4');
    const last = await receiptFixture(owner, home);
    expect(await lookOf(await pdfOf(last.documentId))).toEqual({ width: 420, pixels: null });
    expect((await db.logo.findMany()).map(({ widthPx }) => widthPx).sort()).toEqual([200, 60]);
  });

  test('keeps its logo in the database against every hand', async () => {
    const { sha256 } = (await send(logoPng(50, 40))).json().logo;
    await receiptFixture(owner, home);
    await remove();
    await expect(db.logo.delete({ where: { sha256 } })).rejects.toThrow();
    await expect(db.logo.update({ where: { sha256 }, data: { widthPx: 1 } })).rejects.toThrow();
    const image = Buffer.from('another picture');
    await expect(
      db.logo.create({
        data: { sha256, mediaType: 'image/png', image, widthPx: 1, heightPx: 1, addedAt: clock.now() },
      }),
    ).rejects.toThrow();
  });

  test('and what is drawn afresh each time follow the studio at once', async () => {
    const glaze = await materialFixture(owner, { kind: 'glaze', waterPercent: null });
    const mix = await mixFixture(owner, [glaze.id], { parts: [{ materialId: glaze.id, share: '100' }] });
    const batch = await batchFixture(owner, mix.id);
    const papers = [`/api/mixes/${mix.id}/batch-sheet.pdf?makeGrams=500`, `/api/mix-batches/${batch.id}/labels.pdf`];
    for (const [size, logo, look] of [
      ['LETTER', logoPng(64, 32), { width: 612, pixels: [64, 32] }],
      ['A4', null, { width: 595, pixels: null }],
    ] as const) {
      await printOn(size);
      await (logo ? send(logo) : remove());
      for (const paper of papers) expect(await lookOf((await owner.get(paper)).rawPayload)).toEqual(look);
    }
  });

  test('finds its logo, also where that is taken away at the same moment', async () => {
    const { sha256 } = (await send(logoPng(44, 22))).json().logo;
    let removed: Promise<unknown> = Promise.resolve();
    const head = await inTransaction(db, async (tx) => {
      const head = await getPaperHead(tx);
      removed = inTransaction(db, (other) => replaceLogo(other, clock.now(), null));
      await Promise.race([removed, new Promise((resolve) => setTimeout(resolve, 300))]);
      await tx.document.create({
        data: { id: randomUUID(), kind: 'order', fileName: 'at-the-moment.pdf', content: head, createdAt: clock.now() },
      });
      return head;
    });
    await removed;
    expect(head.logo).toBe(sha256);
    expect(await current()).toBeNull();
    expect(await db.logo.count({ where: { sha256 } })).toBe(1);
  });
});

test('a backup brings back the logo, and the papers with theirs', async () => {
  await send(logoPng(70, 35));
  const { documentId } = await receiptFixture(owner, home);
  await send(JPEG, 'image/jpeg');
  const file = join(await backupFolder(), 'studio.tar.gz');
  await makeBackup(url, file, clock.now());
  const restored = await cloneTemplate();
  await restoreBackup(restored, file);
  const rows = await rowsOf(restored);
  expect(rows).toEqual(await rowsOf(url));
  expect(rows.logo?.length).toBeGreaterThan(1);
  expect(rows.document?.some((row) => row.includes(documentId))).toBe(true);
});
