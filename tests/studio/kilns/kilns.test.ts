import { randomUUID } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { inTransaction } from '../../../src/database/transaction.js';
import { chamberMm3, getKiln, getWearMinor } from '../../../src/studio/kilns/service.js';
import { testApp } from '../../support/app.js';
import { KILN, kilnFixture } from '../../support/fixtures/kilns.js';

const { db, owner, tutor } = await testApp();

describe('adding a kiln', () => {
  test('keeps it with its wear, and reckons its chamber', async () => {
    const answer = await owner.post('/api/kilns', KILN);
    expect(answer.statusCode).toBe(201);
    expect(answer.json()).toEqual({ ...KILN, id: expect.any(String), chamberMm3: 182_303_480, coolingHours: 24 });
    const found = await inTransaction(db, (tx) => getKiln(tx, answer.json().id));
    expect(found).toEqual(answer.json());
    expect(getWearMinor(found, 'glaze')).toBe(500);
  });

  test('works out its wear from what is replaced and how many firings it lasts', async () => {
    const wearMinor = { ...KILN.wearMinor, glaze: { costMinor: 200_000, firings: 400 } };
    const answer = await owner.post('/api/kilns', { ...KILN, name: 'Kiln with new elements', wearMinor });
    expect(answer.statusCode).toBe(201);
    expect(answer.json().wearMinor).toEqual({ ...KILN.wearMinor, glaze: 500 });
    const glazeOf = async (glaze: unknown) => {
      const odd = { ...KILN, name: 'Odd', wearMinor: { ...wearMinor, glaze } };
      return (await owner.post('/api/kilns', odd)).json().errors;
    };
    expect(await glazeOf({ costMinor: 1, firings: 0 })).toMatchObject([{ pointer: '#/wearMinor/glaze/firings' }]);
    const detail = expect.stringContaining('how many firings it lasts');
    expect(await glazeOf('5.00')).toMatchObject([{ pointer: '#/wearMinor/glaze', detail }]);
  });

  test.each([
    ['nothing', {}, '#/name'],
    ['a thimble', { ...KILN, heightMm: 99 }, '#/heightMm'],
    ['a hall', { ...KILN, widthMm: 3001, depthMm: 3001 }, '#/widthMm'],
    ['a round one of two widths', { ...KILN, depthMm: 600 }, '#/depthMm'],
    ['no power', { ...KILN, ratedKw: '0' }, '#/ratedKw'],
    ['a power station', { ...KILN, ratedKw: '200.01' }, '#/ratedKw'],
    ['watts that could not be kept', { ...KILN, ratedKw: '9.605' }, '#/ratedKw'],
    ['fuller than full', { ...KILN, fillPercent: '100.1' }, '#/fillPercent'],
    ['wear of some kinds only', { ...KILN, wearMinor: { bisque: 1, glaze: 1 } }, '#/wearMinor/lustre'],
    [
      'a kind of wear that it does not know',
      { ...KILN, wearMinor: { ...KILN.wearMinor, raku: 1 } },
      '#/wearMinor/raku',
    ],
    ['a shape that it does not know', { ...KILN, shape: 'octagonal' }, '#/shape'],
  ])('refuses %s', async (_, body, pointer) => {
    const answer = await owner.post('/api/kilns', body);
    expect(answer.statusCode).toBe(422);
    expect(answer.json().errors.map((e: { pointer: string }) => e.pointer)).toContain(pointer);
  });

  test('refuses a second one of the same name', async () => {
    const { name } = await kilnFixture(owner);
    const answer = await owner.post('/api/kilns', { ...KILN, name });
    expect(answer.json()).toMatchObject({ type: '/problems/already-there', detail: expect.stringContaining(name) });
  });

  test('adds one, however often it is sent', async () => {
    const key = randomUUID();
    const body = { ...KILN, name: 'Sent often' };
    await Promise.all(Array.from({ length: 5 }, () => owner.post('/api/kilns', body, key)));
    expect(await db.kiln.count({ where: { name: 'Sent often' } })).toBe(1);
    expect(await db.kilnWear.count({ where: { kiln: { name: 'Sent often' } } })).toBe(3);
  });

  test('adds one of two that come at once by the same name', async () => {
    const send = () => owner.post('/api/kilns', { ...KILN, name: 'Twin' });
    const answers = await Promise.all([send(), send(), send()]);
    expect(answers.map((a) => a.statusCode).sort()).toEqual([201, 409, 409]);
  });
});

test('a chamber is a box, or stands on a circle or an ellipse', () => {
  const inside = { widthMm: 1000, depthMm: 500, heightMm: 400 };
  expect(chamberMm3({ ...inside, shape: 'rectangular' })).toBe(200_000_000);
  expect(chamberMm3({ ...inside, shape: 'oval' })).toBe(157_079_633); // 200 000 000 * pi / 4
  expect(chamberMm3({ ...inside, depthMm: 1000, shape: 'round' })).toBe(314_159_265); // pi * 500^2 * 400
});

describe('kilns for whoever fires', () => {
  test('are listed page by page without money', async () => {
    const { wearMinor: _, ...added } = await kilnFixture(owner);
    const first = await tutor.get('/api/kilns?limit=1');
    expect(first.json()).toMatchObject({ items: [{ name: KILN.name }], next: expect.any(String) });
    const rest = await tutor.get(`/api/kilns?limit=200&after=${first.json().next}`);
    expect(rest.json().items).toContainEqual(added);
    expect(first.body + rest.body).not.toMatch(/minor|wear/i);
  });

  test('keep their wear for those who may see money', async () => {
    const { id } = await kilnFixture(owner);
    expect((await tutor.get(`/api/kilns/${id}/wear`)).json()).toMatchObject({ type: '/problems/not-allowed' });
    expect((await owner.get(`/api/kilns/${id}/wear`)).json()).toEqual({ kilnId: id, wearMinor: KILN.wearMinor });
    expect((await owner.get(`/api/kilns/${randomUUID()}/wear`)).json()).toMatchObject({ type: '/problems/not-found' });
  });

  test('are set up by the owner', async () => {
    expect((await tutor.post('/api/kilns', { ...KILN, name: 'Mine' })).statusCode).toBe(403);
    expect(await db.kiln.count({ where: { name: 'Mine' } })).toBe(0);
  });
});
