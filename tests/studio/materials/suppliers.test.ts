import { randomUUID } from 'node:crypto';
import { beforeAll, describe, expect, test } from 'vitest';
import { testApp } from '../../support/app.js';
import { materialFixture } from '../../support/fixtures/materials.js';
import { made, studioFixture } from '../../support/fixtures.js';

const { db, owner, tutor } = await testApp();
beforeAll(() => studioFixture(owner));

const HILL = {
  name: 'Hollow Hill Clays',
  email: 'orders@hollowhill.example',
  addressLines: ['4 Pit Lane', 'Ostlemere'],
  leadTimeDays: 6,
  carriageMinor: 950,
  freeFromMinor: 15_000,
};
const supplierFixture = (name: string) => made<{ id: string }>(owner, '/api/suppliers', { ...HILL, name });

describe('a supplier', () => {
  test('is kept, shown, listed and corrected', async () => {
    const answer = await owner.post('/api/suppliers', HILL);
    expect([answer.statusCode, answer.json()]).toEqual([201, { id: expect.any(String), ...HILL }]);
    const at = `/api/suppliers/${answer.json().id}`;
    expect((await owner.get(at)).headers.etag).toBe(answer.headers.etag);
    const changed = { ...HILL, freeFromMinor: null, carriageMinor: 1200 };
    expect((await owner.put(at, changed)).json()).toMatchObject(changed);
    expect((await owner.get('/api/suppliers')).json().items).toContainEqual({ id: answer.json().id, ...changed });
    expect((await owner.put(at, HILL, randomUUID(), {})).statusCode).toBe(428);
    expect((await owner.put(at, HILL, randomUUID(), { 'if-match': '"other"' })).statusCode).toBe(412);
  });

  test('bears a name of its own, also where two add it at once', async () => {
    const answers = await Promise.all([1, 2, 3].map(() => owner.post('/api/suppliers', { ...HILL, name: 'Twice' })));
    expect(answers.map(({ statusCode }) => statusCode).sort()).toEqual([201, 409, 409]);
    const other = await supplierFixture('Other');
    expect((await owner.put(`/api/suppliers/${other.id}`, { ...HILL, name: 'Twice' })).statusCode).toBe(409);
    const key = randomUUID();
    await Promise.all([1, 2].map(() => owner.post('/api/suppliers', { ...HILL, name: 'By key' }, key)));
    expect(await db.supplier.count({ where: { name: 'By key' } })).toBe(1);
  });

  test.each([
    ['no name', { name: ' ' }, '#/name'],
    ['what is no address for mail', { email: 'at the pit' }, '#/email'],
    ['a lead time below nothing', { leadTimeDays: -1 }, '#/leadTimeDays'],
    ['carriage below nothing', { carriageMinor: -1 }, '#/carriageMinor'],
    ['carriage free from nothing on', { freeFromMinor: 0 }, '#/freeFromMinor'],
  ])('is refused: %s', async (_, changes, pointer) => {
    const answer = await owner.post('/api/suppliers', { ...HILL, name: 'Refused', ...changes });
    expect([answer.statusCode, answer.json().errors[0].pointer]).toEqual([422, pointer]);
    expect(await db.supplier.count({ where: { name: 'Refused' } })).toBe(0);
  });

  test('is no business of a tutor, and not there by any id', async () => {
    expect((await tutor.get('/api/suppliers')).statusCode).toBe(403);
    expect((await tutor.post('/api/suppliers', HILL)).statusCode).toBe(403);
    for (const answer of [
      await owner.get(`/api/suppliers/${randomUUID()}`),
      await owner.put(`/api/suppliers/${randomUUID()}`, HILL),
    ])
      expect(answer.json()).toMatchObject({ status: 404, lookUp: '/api/suppliers', page: 'shelf' });
  });
});

describe('where a material is bought', () => {
  test('is its usual supplier with the packs there, smallest first', async () => {
    const [clay, { id: supplierId }] = [await materialFixture(owner), await supplierFixture('Pit and Kiln')];
    const at = `/api/materials/${clay.id}/supply`;
    expect((await owner.get(at)).json()).toEqual({ supplierId: null, packs: [] });
    const packs = [
      { quantity: 25_000, priceMinor: 3300 },
      { quantity: 12_500, priceMinor: 1850 },
    ];
    const answer = await owner.put(at, { supplierId, packs });
    expect([answer.statusCode, answer.json()]).toEqual([200, { supplierId, packs: [packs[1], packs[0]] }]);
    expect((await owner.put(at, { supplierId, packs: [packs[0]] })).json().packs).toEqual([packs[0]]);
    expect((await owner.get(at)).json()).toEqual({ supplierId, packs: [packs[0]] });
    const { unit: _, ...rest } = (await tutor.get(`/api/materials/${clay.id}`)).json();
    expect(JSON.stringify(rest)).not.toMatch(/3300|supplierId/);
  });

  test.each([
    ['packs of nobody', { supplierId: null, packs: [{ quantity: 1, priceMinor: 1 }] }, 422],
    ['the same pack twice', { supplierId: randomUUID(), packs: Array(2).fill({ quantity: 1, priceMinor: 1 }) }, 422],
    ['a pack of nothing', { supplierId: randomUUID(), packs: [{ quantity: 0, priceMinor: 1 }] }, 422],
    ['a supplier that is not there', { supplierId: randomUUID(), packs: [] }, 404],
  ])('is refused: %s', async (_, body, status) => {
    const clay = await materialFixture(owner);
    expect((await owner.put(`/api/materials/${clay.id}/supply`, body)).statusCode).toBe(status);
    expect(await db.materialPack.count({ where: { materialId: clay.id } })).toBe(0);
  });

  test('is the owner’s to see and to say, of a material that is there', async () => {
    const clay = await materialFixture(owner);
    expect((await tutor.get(`/api/materials/${clay.id}/supply`)).statusCode).toBe(403);
    expect((await owner.get(`/api/materials/${randomUUID()}/supply`)).statusCode).toBe(404);
    expect((await owner.put(`/api/materials/${randomUUID()}/supply`, { supplierId: null, packs: [] })).statusCode).toBe(
      404,
    );
  });
});
