import { randomUUID } from 'node:crypto';
import { beforeAll, describe, expect, test } from 'vitest';
import { sqlState } from '../../../src/database/sqlstate.js';
import { testApp } from '../../support/app.js';
import { lotFixture, materialFixture } from '../../support/fixtures/materials.js';
import { studioFixture } from '../../support/fixtures.js';

const { db, owner, tutor } = await testApp();
beforeAll(() => studioFixture(owner));

const draw = (id: string, quantity: number, more: object = {}, key?: string) =>
  tutor.post(`/api/materials/${id}/draws`, { quantity, ...more }, key);
const movesOf = (materialId: string) => db.stockMove.findMany({ where: { materialId }, orderBy: { id: 'asc' } });

describe('drawing', () => {
  test('takes from the oldest lot first, by the day it came, at what that lot cost', async () => {
    const clay = await materialFixture(owner);
    const late = await lotFixture(owner, clay.id, { receivedOn: '2026-03-05', quantity: 1000, costMinor: 300 });
    const early = await lotFixture(owner, clay.id, { receivedOn: '2026-02-05', quantity: 1000, costMinor: 100 });
    const answer = await draw(clay.id, 1500, { note: 'Bowls' });
    expect(answer.statusCode).toBe(201);
    expect(answer.json()).toEqual({
      moveIds: [expect.any(String), expect.any(String)],
      foundQuantity: 0,
      onHand: 500,
      asksForCount: false,
    });
    const drawn = (await movesOf(clay.id)).filter((move) => answer.json().moveIds.includes(move.id));
    expect(drawn).toMatchObject([
      { lotId: early.id, kind: 'drawn', quantity: -1000, costMinor: -100, note: 'Bowls' },
      { lotId: late.id, kind: 'drawn', quantity: -500, costMinor: -150, note: 'Bowls' },
    ]);
  });

  test('spends what a lot cost to the penny, in however many draws', async () => {
    const clay = await materialFixture(owner);
    await lotFixture(owner, clay.id, { quantity: 7, costMinor: 100 });
    for (let i = 0; i < 7; i++) await draw(clay.id, 1);
    const costs = (await movesOf(clay.id)).map((move) => move.costMinor);
    expect(costs.slice(1)).toEqual([-14, -15, -14, -14, -14, -15, -14]);
    expect(costs.reduce((sum, cost) => sum + cost)).toBe(0);
  });

  test('tells what was wasted from what was used', async () => {
    const clay = await materialFixture(owner);
    await lotFixture(owner, clay.id);
    await draw(clay.id, 200, { kind: 'wasted', note: 'Dried out' });
    expect((await movesOf(clay.id)).at(-1)).toMatchObject({ kind: 'wasted', quantity: -200, note: 'Dried out' });
  });

  test('takes what the books do not hold as found, without cost, and asks for a count', async () => {
    const clay = await materialFixture(owner);
    await lotFixture(owner, clay.id, { quantity: 1000, costMinor: 100 });
    const answer = await draw(clay.id, 1400);
    expect(answer.json()).toMatchObject({ foundQuantity: 400, onHand: 0, asksForCount: true });
    expect((await movesOf(clay.id)).slice(1)).toMatchObject([
      { kind: 'drawn', quantity: -1000, costMinor: -100 },
      { kind: 'found', quantity: 400, costMinor: 0, stocktakeId: null },
      { kind: 'drawn', quantity: -400, costMinor: 0, id: answer.json().moveIds[1] },
    ]);
    const found = await db.lot.findMany({ where: { materialId: clay.id, supplier: null } });
    expect(found).toMatchObject([{ quantity: 400, costMinor: 0, receivedOn: new Date('2026-03-10') }]);
    expect((await tutor.get(`/api/materials/${clay.id}`)).json().asksForCount).toBe(true);
  });

  test.each([
    ['nothing', 0],
    ['less than nothing', -5],
    ['a part of a gram', 1.5],
    ['more than there is in the world', 10_000_001],
    ['a word', 'some'],
  ])('refuses %s', async (_, quantity) => {
    const clay = await materialFixture(owner);
    const answer = await draw(clay.id, quantity as number);
    expect(answer.json()).toMatchObject({ status: 422, errors: [{ pointer: '#/quantity' }] });
    expect(await movesOf(clay.id)).toEqual([]);
  });

  test('needs a material', async () => {
    expect((await draw(randomUUID(), 1)).json()).toMatchObject({ type: '/problems/not-found' });
  });

  test('takes once, however often it is sent', async () => {
    const clay = await materialFixture(owner);
    await lotFixture(owner, clay.id);
    const key = randomUUID();
    const answers = await Promise.all(Array.from({ length: 8 }, () => draw(clay.id, 300, {}, key)));
    expect(new Set(answers.map((a) => a.body)).size).toBe(1);
    expect(await movesOf(clay.id)).toHaveLength(2);
  });

  test('gives nobody the same gram twice, whoever draws at once', async () => {
    const clay = await materialFixture(owner);
    await lotFixture(owner, clay.id, { quantity: 1500, costMinor: 700 });
    await lotFixture(owner, clay.id, { quantity: 1500, costMinor: 800, receivedOn: '2026-03-04' });
    const answers = await Promise.all(Array.from({ length: 40 }, () => draw(clay.id, 100)));
    expect(answers.map((a) => a.statusCode)).toEqual(answers.map(() => 201));
    // 3000 g are in the books: 30 draws come from lots, 10 are found
    expect(answers.filter((a) => a.json().foundQuantity > 0)).toHaveLength(10);
    const moves = await movesOf(clay.id);
    const out = moves.filter((move) => move.kind === 'drawn');
    expect(out.reduce((sum, move) => sum - move.quantity, 0)).toBe(4000);
    expect(out.reduce((sum, move) => sum - move.costMinor, 0)).toBe(1500);
  });
});

describe('the database, whoever writes to it', () => {
  const move = (lotId: string, materialId: string, more: object) =>
    db.stockMove.create({
      data: { id: randomUUID(), lotId, materialId, kind: 'drawn', at: new Date(), note: '', ...more } as never,
    });
  const refusalOf = (writing: Promise<unknown>) => writing.then(() => 'written', sqlState);

  test.each([
    ['draws more than the lot held', { quantity: -101, costMinor: 0 }],
    ['draws more money than it cost', { quantity: -10, costMinor: -51 }],
    ['leaves money in an empty lot', { quantity: -100, costMinor: -49 }],
    ['puts in what never came', { kind: 'received', quantity: 1, costMinor: 0 }],
  ])('never %s', async (_, more) => {
    const clay = await materialFixture(owner);
    const lot = await lotFixture(owner, clay.id, { quantity: 100, costMinor: 50 });
    expect(await refusalOf(move(lot.id, clay.id, more))).toBe('WB006');
  });

  test('never rewrites a lot or a move', async () => {
    const clay = await materialFixture(owner);
    const { id } = await lotFixture(owner, clay.id);
    expect(await refusalOf(db.lot.update({ where: { id }, data: { costMinor: 1 } }))).toBe('WB006');
    expect(await refusalOf(db.stockMove.deleteMany({ where: { lotId: id } }))).toBe('WB006');
  });

  test('loses nothing without a stocktake that explains it', async () => {
    const clay = await materialFixture(owner);
    const lot = await lotFixture(owner, clay.id);
    const missing = move(lot.id, clay.id, { kind: 'missing', quantity: -1, costMinor: 0 });
    expect(await refusalOf(missing)).toBe('23514');
  });
});
