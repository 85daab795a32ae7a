import { randomUUID } from 'node:crypto';
import { beforeAll, describe, expect, test } from 'vitest';
import { testApp } from '../../support/app.js';
import { made, STUDIO, studioFixture } from '../../support/fixtures.js';

const { owner, tutor } = await testApp();
let standard: { id: string };
let clay: { id: string };
const BUCKET = { name: 'Buff body', kind: 'clay', unit: 'g', packQuantity: 12_500, leadTimeDays: 7 };
const LOT = { supplier: 'Ostlemere Clay', receivedOn: '2026-01-05', quantity: 12_500, costMinor: 1400 };

beforeAll(async () => {
  ({ standard } = await studioFixture(owner));
  clay = await made(owner, '/api/materials', BUCKET);
});

const assume = (kind: string, subjectId: string, figures = ['Benches']) =>
  owner.post('/api/assumptions', { kind, subjectId, figures });
const list = async () => (await owner.get('/api/assumptions')).json().items;
const confirm = (id: string) => owner.post(`/api/assumptions/${id}/confirm`, {});

describe('a usual figure', () => {
  test('is noted with the name of what holds it, until it is confirmed', async () => {
    const room = await made<{ id: string }>(owner, '/api/rooms', { name: 'Garden room', benches: 8 });
    expect((await assume('room', room.id)).statusCode).toBe(201);
    expect(await list()).toMatchObject([
      { kind: 'room', subjectId: room.id, name: 'Garden room', figures: ['Benches'] },
    ]);
    expect((await confirm(room.id)).json()).toEqual({ items: [] });
    expect((await confirm(room.id)).statusCode).toBe(200);
    expect(await list()).toEqual([]);
  });

  test('said again of the same thing counts as it was said last', async () => {
    await assume('material', clay.id, ['Water', 'Shrinkage']);
    await assume('material', clay.id, ['Water']);
    expect(await list()).toMatchObject([{ figures: ['Water'] }]);
    await confirm(clay.id);
  });

  test('of nothing is refused, and so is one that names no figure', async () => {
    expect((await assume('kiln', randomUUID())).json()).toMatchObject({ type: '/problems/not-found' });
    expect((await assume('kiln', clay.id)).statusCode).toBe(404);
    expect((await assume('material', clay.id, [])).statusCode).toBe(422);
    expect(await list()).toEqual([]);
  });

  test('is for those who see money', async () => {
    expect((await tutor.get('/api/assumptions')).statusCode).toBe(403);
    expect((await tutor.post('/api/assumptions', {})).statusCode).toBe(403);
  });
});

describe('an assumption ends', () => {
  test('when what it is about is changed', async () => {
    await assume('material', clay.id, ['Water']);
    await owner.put(`/api/materials/${clay.id}`, { ...BUCKET, waterPercent: '20' });
    expect(await list()).toEqual([]);
  });

  test('when what it is about is removed', async () => {
    const { id } = await made(owner, '/api/rooms', { name: 'Loft', benches: 3 });
    await assume('room', id);
    expect((await owner.post(`/api/rooms/${id}/removal`)).statusCode).toBe(200);
    expect(await list()).toEqual([]);
  });

  test('of tax with the studio’s number, and not with its telephone', async () => {
    const studio = { ...STUDIO, firingTaxRateId: standard.id, vatNumber: null };
    await owner.put('/api/studio', studio);
    await assume('tax', standard.id, ['VAT']);
    await owner.put('/api/studio', { ...studio, phone: '01632 960 111' });
    expect(await list()).toMatchObject([{ kind: 'tax' }]);
    await owner.put('/api/studio', { ...studio, vatNumber: 'GB 123 4567 89' });
    expect(await list()).toEqual([]);
  });

  test('of a price with the next lot that is bought', async () => {
    const lot = await made<{ id: string }>(owner, `/api/materials/${clay.id}/lots`, LOT);
    await assume('lot', lot.id, ['Price of a pack']);
    expect(await list()).toMatchObject([{ kind: 'lot', name: 'Buff body' }]);
    await made(owner, `/api/materials/${clay.id}/lots`, { ...LOT, receivedOn: '2026-01-06', costMinor: 1500 });
    expect(await list()).toEqual([]);
  });
});
