import { randomUUID } from 'node:crypto';
import { beforeAll, describe, expect, test } from 'vitest';
import { inTransaction } from '../../../src/database/transaction.js';
import { getNextUnitCosts } from '../../../src/studio/materials/service.js';
import { testApp } from '../../support/app.js';
import { lotFixture, materialFixture } from '../../support/fixtures/materials.js';
import { studioFixture } from '../../support/fixtures.js';

const { db, owner } = await testApp();
beforeAll(() => studioFixture(owner));

const rateOf = (id: string) => inTransaction(db, async (tx) => (await getNextUnitCosts(tx, [id])).get(id) ?? null);
const costsOf = async (id: string) => (await owner.get(`/api/materials/${id}/costs`)).json();
const draw = (id: string, quantity: number) => owner.post(`/api/materials/${id}/draws`, { quantity });

describe('receiving a lot', () => {
  test('puts it on the shelf at its cost', async () => {
    const clay = await materialFixture(owner);
    const lot = { supplier: 'Hollow Hill Clays', receivedOn: '2026-03-10', quantity: 25_000, costMinor: 4100 };
    const answer = await owner.post(`/api/materials/${clay.id}/lots`, lot);
    expect(answer.statusCode).toBe(201);
    expect(answer.json()).toEqual({ id: expect.any(String), ...lot, left: 25_000, leftWorthMinor: 4100 });
    expect(await db.stockMove.findMany({ where: { materialId: clay.id } })).toMatchObject([
      { lotId: answer.json().id, kind: 'received', quantity: 25_000, costMinor: 4100, stocktakeId: null },
    ]);
  });

  test.each([
    ['nothing', { quantity: 0 }, '#/quantity'],
    ['half a gram', { quantity: 0.5 }, '#/quantity'],
    ['money that is owed to us', { costMinor: -1 }, '#/costMinor'],
    ['tomorrow', { receivedOn: '2026-03-11' }, '#/receivedOn'],
    ['a year mistyped', { receivedOn: '0206-03-01' }, '#/receivedOn'],
    ['the 30th of February', { receivedOn: '2026-02-30' }, '#/receivedOn'],
    ['nobody', { supplier: ' ' }, '#/supplier'],
  ])('refuses %s, and keeps nothing', async (_, change, pointer) => {
    const clay = await materialFixture(owner);
    const lot = { supplier: 'Hollow Hill Clays', receivedOn: '2026-03-03', quantity: 1, costMinor: 1, ...change };
    const answer = await owner.post(`/api/materials/${clay.id}/lots`, lot);
    expect(answer.statusCode).toBe(422);
    expect(answer.json().errors.map((e: { pointer: string }) => e.pointer)).toContain(pointer);
    expect(await db.lot.count({ where: { materialId: clay.id } })).toBe(0);
  });

  test('takes it in once, however often it is sent', async () => {
    const clay = await materialFixture(owner);
    const key = randomUUID();
    const lot = { supplier: 'Hollow Hill Clays', receivedOn: '2026-03-03', quantity: 100, costMinor: 10 };
    const send = () => owner.post(`/api/materials/${clay.id}/lots`, lot, key);
    await Promise.all([send(), send(), send()]);
    expect(await db.lot.count({ where: { materialId: clay.id } })).toBe(1);
  });

  test('needs a material', async () => {
    const lot = { supplier: 'Hollow Hill Clays', receivedOn: '2026-03-03', quantity: 100, costMinor: 10 };
    expect((await owner.post(`/api/materials/${randomUUID()}/lots`, lot)).statusCode).toBe(404);
  });
});

describe('the price of the next purchase', () => {
  test('is not known before a first lot', async () => {
    const clay = await materialFixture(owner);
    expect(await rateOf(clay.id)).toBeNull();
    expect(await costsOf(clay.id)).toEqual({ materialId: clay.id, packPrice: null, worthMinor: 0, lots: [] });
  });

  test('is that of the latest delivery, whenever that was entered', async () => {
    const clay = await materialFixture(owner);
    await lotFixture(owner, clay.id, { receivedOn: '2026-03-05', costMinor: 2000 });
    await lotFixture(owner, clay.id, { receivedOn: '2026-02-05', costMinor: 1000 });
    expect(await rateOf(clay.id)).toEqual({
      rateMinor: '0.16',
      source: { kind: 'lot', detail: 'Lot of 5 March 2026, carriage included.' },
    });
    expect((await costsOf(clay.id)).packPrice).toMatchObject({ amountMinor: 2000 });
  });

  test('is not that of a gift, nor of what was found', async () => {
    const clay = await materialFixture(owner);
    await lotFixture(owner, clay.id, { quantity: 5000, costMinor: 1000, receivedOn: '2026-01-05' });
    await lotFixture(owner, clay.id, { quantity: 100, costMinor: 0 });
    await draw(clay.id, 6000);
    expect((await rateOf(clay.id))?.rateMinor).toBe('0.2');
    const free = await materialFixture(owner);
    await draw(free.id, 10);
    expect(await rateOf(free.id)).toBeNull();
    await lotFixture(owner, free.id, { costMinor: 0 });
    expect((await rateOf(free.id))?.rateMinor).toBe('0');
  });

  test('is rounded once, for the whole pack', async () => {
    const clay = await materialFixture(owner, { packQuantity: 3 });
    await lotFixture(owner, clay.id, { quantity: 7, costMinor: 10 });
    // 10 * 3 / 7 = 4.28...; from a rate of whole pence it would be 3
    expect((await costsOf(clay.id)).packPrice.amountMinor).toBe(4);
    expect((await rateOf(clay.id))?.rateMinor).toBe('1.428571428571');
  });
});

describe('the worth of the stock', () => {
  test('is what its lots cost, less what was drawn from them', async () => {
    const clay = await materialFixture(owner);
    const before = (await owner.get('/api/stock-value')).json().totalMinor;
    await lotFixture(owner, clay.id, { quantity: 1000, costMinor: 333 });
    await lotFixture(owner, clay.id, { quantity: 1000, costMinor: 500, receivedOn: '2026-03-04' });
    await draw(clay.id, 500);
    // half of 333 is 166.5, and half a penny goes up: 167 have left
    const costs = await costsOf(clay.id);
    expect(costs.worthMinor).toBe(666);
    expect(costs.lots).toMatchObject([
      { quantity: 1000, left: 500, costMinor: 333, leftWorthMinor: 166 },
      { quantity: 1000, left: 1000, costMinor: 500, leftWorthMinor: 500 },
    ]);
    const value = (await owner.get('/api/stock-value?limit=200')).json();
    expect(value.totalMinor - before).toBe(666);
    expect(value.items.find((item: { materialId: string }) => item.materialId === clay.id)).toMatchObject({
      name: clay.name,
      onHand: 1500,
      worthMinor: 666,
      packPrice: { amountMinor: 6250, detail: 'Lot of 4 March 2026, carriage included.' },
    });
  });
});
