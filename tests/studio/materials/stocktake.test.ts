import { randomUUID } from 'node:crypto';
import { beforeAll, describe, expect, test } from 'vitest';
import { sqlState } from '../../../src/database/sqlstate.js';
import { testApp } from '../../support/app.js';
import { lotFixture, materialFixture } from '../../support/fixtures/materials.js';
import { studioFixture } from '../../support/fixtures.js';

const { db, owner, tutor } = await testApp();
beforeAll(() => studioFixture(owner));

const count = (id: string, counted: number, explanation?: string, key?: string) =>
  tutor.post(`/api/materials/${id}/counts`, { counted, ...(explanation ? { explanation } : {}) }, key);
const draw = (id: string, quantity: number) => tutor.post(`/api/materials/${id}/draws`, { quantity });
const stockOf = async (id: string) => {
  const { onHand, asksForCount } = (await tutor.get(`/api/materials/${id}`)).json();
  return { onHand, asksForCount };
};
const movesOf = (materialId: string) => db.stockMove.findMany({ where: { materialId }, orderBy: { id: 'asc' } });

async function clayOf(quantity: number) {
  const clay = await materialFixture(owner);
  await lotFixture(owner, clay.id, { quantity, costMinor: 100 });
  return clay.id;
}

describe('a stocktake', () => {
  test('takes what is missing from the oldest lots, with its explanation', async () => {
    const id = await clayOf(1000);
    const answer = await count(id, 900, 'A bag had split');
    expect(answer.statusCode).toBe(201);
    expect(answer.json()).toEqual({
      id: expect.any(String),
      at: '2026-03-10T09:00:00.000Z',
      counted: 900,
      inBooks: 1000,
      explanation: 'A bag had split',
    });
    expect((await movesOf(id)).at(-1)).toMatchObject({
      kind: 'missing',
      quantity: -100,
      costMinor: -10,
      note: 'A bag had split',
      stocktakeId: answer.json().id,
    });
    expect(await stockOf(id)).toEqual({ onHand: 900, asksForCount: false });
  });

  test('takes what was found into a lot without cost, and asks for no other count', async () => {
    const id = await clayOf(1000);
    await count(id, 1250, 'Half a bag behind the door');
    expect((await movesOf(id)).at(-1)).toMatchObject({ kind: 'found', quantity: 250, costMinor: 0 });
    expect(await stockOf(id)).toEqual({ onHand: 1250, asksForCount: false });
  });

  test('may find an empty shelf, and money leaves with the last gram', async () => {
    const id = await clayOf(999);
    await count(id, 0, 'Lent to a neighbour');
    expect((await movesOf(id)).reduce((sum, move) => sum + move.costMinor, 0)).toBe(0);
    expect(await stockOf(id)).toEqual({ onHand: 0, asksForCount: false });
  });

  test('asks why where it differs, and keeps nothing until it is told', async () => {
    const id = await clayOf(1000);
    const answer = await count(id, 990);
    expect(answer.json()).toMatchObject({ status: 422, errors: [{ pointer: '#/explanation' }] });
    expect(answer.json().detail).toContain('Recorded stock is 1000, you counted 990.');
    expect(await movesOf(id)).toHaveLength(1);
    expect(await db.stocktake.count({ where: { materialId: id } })).toBe(0);
  });

  test.each([-1, 1.5, 100_000_001, null])('refuses %s', async (counted) => {
    const id = await clayOf(1000);
    expect((await count(id, counted as number, 'A slip')).json()).toMatchObject({ errors: [{ pointer: '#/counted' }] });
  });

  test('needs a material', async () => {
    expect((await count(randomUUID(), 1)).statusCode).toBe(404);
  });

  test('counts once, however often it is sent', async () => {
    const id = await clayOf(1000);
    const key = randomUUID();
    await Promise.all(Array.from({ length: 6 }, () => count(id, 900, 'A bag had split', key)));
    expect(await db.stocktake.count({ where: { materialId: id } })).toBe(1);
    expect(await movesOf(id)).toHaveLength(2);
  });
});

describe('asking for a count', () => {
  test('ends with the next one, even if that agrees, and begins anew with the next draw beyond the books', async () => {
    const id = await clayOf(1000);
    expect(await stockOf(id)).toEqual({ onHand: 1000, asksForCount: false });
    await draw(id, 1001);
    expect(await stockOf(id)).toEqual({ onHand: 0, asksForCount: true });
    await lotFixture(owner, id);
    expect((await stockOf(id)).asksForCount).toBe(true); // a delivery answers no question
    expect((await count(id, 12_500)).statusCode).toBe(201);
    expect(await stockOf(id)).toEqual({ onHand: 12_500, asksForCount: false });
    await draw(id, 12_501); // at the same instant by the clock
    expect((await stockOf(id)).asksForCount).toBe(true);
    const listed = (await tutor.get('/api/materials?limit=200')).json().items;
    expect(listed.filter((item: { asksForCount: boolean }) => item.asksForCount)).toMatchObject([{ id }]);
  });
});

test('a count while others draw sees each draw wholly or not at all', async () => {
  const id = await clayOf(5000);
  const draws = Array.from({ length: 30 }, () => draw(id, 100));
  const [counted] = await Promise.all([count(id, 4000, 'Counted amid the bustle'), ...draws]);
  expect(counted.statusCode).toBe(201);
  const moves = await movesOf(id);
  const before = moves.filter((move) => move.kind === 'drawn' && move.id < counted.json().id).length;
  const after = 30 - before;
  expect(counted.json().inBooks).toBe(5000 - 100 * before);
  expect(moves.reduce((sum, move) => sum + move.quantity, 0)).toBe(4000 - 100 * after);
});

test('the database refuses a stocktake whose difference was not entered', async () => {
  const materialId = await clayOf(1000);
  const stocktake = { id: randomUUID(), materialId, at: new Date(), counted: 900, inBooks: 1000, explanation: 'Split' };
  expect(await db.stocktake.create({ data: stocktake }).catch(sqlState)).toBe('WB006');
});
