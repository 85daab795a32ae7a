import { randomUUID } from 'node:crypto';
import { beforeAll, describe, expect, test } from 'vitest';
import { signIn } from '../../../src/studio/staff/sign-in.js';
import type { Tile } from '../../../src/studio/tiles/contract.js';
import { testApp } from '../../support/app.js';
import { glazeFixture, materialFixture } from '../../support/fixtures/materials.js';
import { made, studioFixture } from '../../support/fixtures.js';

const { app, db, clock, owner, ownerMember } = await testApp();
beforeAll(() => studioFixture(owner));
const session = await signIn(db, clock.now(), { email: ownerMember.email, password: 'a long test password' });

const bytes = (start: string, length = 200) => Buffer.concat([Buffer.from(start, 'latin1'), Buffer.alloc(length, 7)]);
const JPEG = bytes('\xff\xd8\xff\xe0');
const PNG = bytes('\x89PNG\r\n\x1a\n');
const WEBP = bytes('RIFF\x10\x00\x00\x00WEBPVP8 ');

async function newTile() {
  const [clay, glaze] = [await materialFixture(owner), await glazeFixture(owner)];
  const layers = [{ materialId: glaze.id, way: 'dipped' }];
  return made<Tile>(owner, '/api/test-tiles', { name: 'With a photo', bodyId: clay.id, layers });
}
const send = (id: string, payload: Buffer | undefined, type = 'image/jpeg', key: string = randomUUID()) =>
  app.inject({
    ...{ method: 'POST', url: `/api/test-tiles/${id}/photos`, ...(payload && { payload }) },
    headers: {
      ...{ cookie: `wareboard=${session}`, 'sec-fetch-site': 'same-origin', 'idempotency-key': `"${key}"` },
      ...(payload && { 'content-type': type }),
    },
  });

describe('a photo of a tile', () => {
  test.each([
    ['JPEG', JPEG, 'image/jpeg'],
    ['PNG', PNG, 'image/png'],
    ['WebP', WEBP, 'image/webp'],
  ])('in %s is kept byte for byte, and shown as what it is', async (_, photo, type) => {
    const { id } = await newTile();
    const answer = await send(id, photo, type);
    expect(answer.statusCode).toBe(201);
    const [shown] = answer.json().photos;
    expect(shown).toMatchObject({ mediaType: type, addedAt: '2026-03-10T09:00:00.000Z' });
    const got = await owner.get(`/api/test-tiles/${id}/photos/${shown.id}`);
    expect(got.rawPayload).toEqual(photo);
    expect(got.headers).toMatchObject({ 'content-type': type, 'x-content-type-options': 'nosniff' });
  });

  test('is what its first bytes say, whatever its sender calls it', async () => {
    const { id } = await newTile();
    expect((await send(id, PNG, 'image/jpeg')).json().photos).toMatchObject([{ mediaType: 'image/png' }]);
  });

  test('is refused where it is none, is called something else, or is too large', async () => {
    const { id } = await newTile();
    for (const none of [Buffer.from('<svg onload="alert(1)">'), Buffer.from('RIFF\x10\x00\x00\x00WAVE'), undefined])
      expect((await send(id, none)).json()).toMatchObject({
        status: 422,
        detail: expect.stringMatching(/JPEG, PNG or WebP/),
      });
    expect((await send(id, JPEG, 'application/json')).json()).toMatchObject({ type: '/problems/wrong-media-type' });
    expect((await send(id, bytes('\xff\xd8\xff', 5_000_000))).json()).toMatchObject({
      ...{ type: '/problems/too-large', detail: expect.stringContaining('5 MB') },
    });
    expect((await send(id, bytes('\xff\xd8\xff', 4_999_997))).statusCode).toBe(201);
    expect((await send(randomUUID(), JPEG)).statusCode).toBe(404);
    expect(await db.testTilePhoto.count({ where: { tileId: id } })).toBe(1);
  });

  test('is kept once, however often it is sent; another under the same key is refused', async () => {
    const { id } = await newTile();
    const key = randomUUID();
    const answers = await Promise.all([1, 2, 3].map(() => send(id, JPEG, 'image/jpeg', key)));
    expect(new Set(answers.map((answer) => answer.body)).size).toBe(1);
    expect((await send(id, PNG, 'image/png', key)).json()).toMatchObject({ type: '/problems/key-reused' });
    expect(await db.testTilePhoto.count({ where: { tileId: id } })).toBe(1);
  });

  test('is one of twelve at most, also of many sent at once', async () => {
    const { id } = await newTile();
    const answers = await Promise.all(Array.from({ length: 15 }, () => send(id, JPEG)));
    expect(answers.filter(({ statusCode }) => statusCode === 201)).toHaveLength(12);
    expect(answers.find(({ statusCode }) => statusCode === 422)?.json().detail).toMatch(/has 12 photos/);
  });

  test('is taken away for good, and makes room for another', async () => {
    const { id } = await newTile();
    const photoId = (await send(id, JPEG)).json().photos[0].id;
    await send(id, PNG, 'image/png');
    const gone = await owner.post(`/api/test-tiles/${id}/photos/${photoId}/removal`, {});
    expect(gone.statusCode).toBe(201);
    expect(gone.json().photos).toMatchObject([{ mediaType: 'image/png' }]);
    expect((await owner.get(`/api/test-tiles/${id}/photos/${photoId}`)).statusCode).toBe(404);
    expect(await db.testTilePhoto.count({ where: { id: photoId } })).toBe(0);
    expect((await owner.post(`/api/test-tiles/${id}/photos/${photoId}/removal`, {})).statusCode).toBe(404);
    const other = await newTile();
    const [left] = gone.json().photos;
    expect((await owner.post(`/api/test-tiles/${other.id}/photos/${left.id}/removal`, {})).statusCode).toBe(404);
    await expect(db.testTilePhoto.update({ where: { id: left.id }, data: { image: WEBP } })).rejects.toThrow();
  });

  test('is found with its own tile alone', async () => {
    const [one, other] = [await newTile(), await newTile()];
    const photoId = (await send(one.id, JPEG)).json().photos[0].id;
    expect((await owner.get(`/api/test-tiles/${other.id}/photos/${photoId}`)).statusCode).toBe(404);
  });
});
