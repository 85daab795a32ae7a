import { randomUUID } from 'node:crypto';
import { beforeAll, describe, expect, test } from 'vitest';
import { testApp } from '../../support/app.js';
import { glazeFixture, lotFixture } from '../../support/fixtures/materials.js';
import { batchFixture, mixFixture, powderFixture } from '../../support/fixtures/mixes.js';
import { studioFixture } from '../../support/fixtures.js';

const { db, owner, tutor } = await testApp();
beforeAll(() => studioFixture(owner));

/** Two powders, of which 600 g at 1 and 5000 g at 2 the gram are on the shelf. */
async function shelf() {
  const [a, b] = [await powderFixture(owner), await powderFixture(owner)];
  await lotFixture(owner, a.id, { quantity: 600, costMinor: 600 });
  await lotFixture(owner, b.id, { quantity: 5000, costMinor: 10_000 });
  return { a, b, mix: await mixFixture(owner, [a.id, b.id]) };
}
const onHand = async (id: string) => (await owner.get(`/api/materials/${id}`)).json().onHand;

describe('a batch', () => {
  test('takes its parts off the shelf and becomes a lot at what they cost', async () => {
    const { a, b, mix } = await shelf();
    const answer = await tutor.post(`/api/mixes/${mix.id}/batches`, { makeGrams: 1001, note: 'For the autumn course' });
    expect(answer.statusCode).toBe(201);
    expect(answer.json()).toMatchObject({
      ...{ name: mix.product.name, version: 1, quantity: 1001, left: 1001, makeGrams: 1001, undoing: null },
      ...{ madeOn: '2026-03-10', note: 'For the autumn course' },
      parts: [
        { materialId: a.id, weighGrams: 501, quantity: 501, asksForCount: false },
        { materialId: b.id, weighGrams: 500, quantity: 500 },
      ],
    });
    expect(JSON.stringify(answer.json())).not.toMatch(/minor/i);
    expect([await onHand(a.id), await onHand(b.id), await onHand(mix.product.id)]).toEqual([99, 4500, 1001]);
    const costs = (await owner.get(`/api/materials/${mix.product.id}/costs`)).json();
    expect(costs).toMatchObject({ worthMinor: 1501, lots: [{ id: answer.json().lotId, costMinor: 1501 }] });
    expect((await owner.get(`/api/mixes/${mix.id}/costs`)).json().batches).toEqual([
      { batchId: answer.json().id, costMinor: 1501 },
    ]);
  });

  test('takes what the books don’t hold as found, and says which part to count', async () => {
    const { a, b, mix } = await shelf();
    const batch = await batchFixture(owner, mix.id, { makeGrams: 2000 });
    expect(batch.parts).toMatchObject([
      { materialId: a.id, asksForCount: true },
      { materialId: b.id, asksForCount: false },
    ]);
    expect([await onHand(a.id), await onHand(b.id)]).toEqual([0, 4000]);
    expect((await owner.get(`/api/materials/${mix.product.id}/costs`)).json().worthMinor).toBe(600 + 2000);
  });

  test('of two jars draws millilitres, and is as much as was measured', async () => {
    const [one, two] = [await glazeFixture(owner), await glazeFixture(owner)];
    const product = await glazeFixture(owner);
    const mix = await mixFixture(owner, [one.id, two.id], { weights: 'wet' }, product.id);
    const batch = await batchFixture(owner, mix.id, {
      ...{ makeGrams: 2000, measuredQuantity: 1300, measuredLitreGrams: 1530 },
    });
    expect(batch).toMatchObject({ measuredLitreGrams: 1530 });
    const light = await owner.post(`/api/mixes/${mix.id}/batches`, { makeGrams: 2000, measuredLitreGrams: 1000 });
    expect(light.statusCode).toBe(422);
    // a ml that holds 0.8 g at 2.6 weighs 1.4923 g, by Brongniart's rule
    expect(batch).toMatchObject({ quantity: 1300, unit: 'ml', litreGrams: 1492, addWaterMl: 0 });
    expect(batch.parts).toMatchObject([
      { weighGrams: 1000, quantity: 670 },
      { weighGrams: 1000, quantity: 670 },
    ]);
  });

  test('keeps the version it was made by', async () => {
    const { a, mix } = await shelf();
    await batchFixture(owner, mix.id);
    await owner.put(`/api/mixes/${mix.id}`, { weights: 'dry', parts: [{ materialId: a.id, share: '1' }] });
    await batchFixture(owner, mix.id);
    const { items } = (await tutor.get(`/api/mixes/${mix.id}/batches`)).json();
    expect(items).toMatchObject([
      { version: 1, parts: [{ weighGrams: 500 }, { weighGrams: 500 }] },
      { version: 2, parts: [{ weighGrams: 1000 }] },
    ]);
    expect(items[1].number).toBe(items[0].number + 1);
  });

  test('of a mix that is in it goes on at what that cost', async () => {
    const { a, mix } = await shelf();
    await batchFixture(owner, mix.id, { makeGrams: 1000 });
    const outer = await mixFixture(owner, [mix.product.id, a.id]);
    const batch = await batchFixture(owner, outer.id, { makeGrams: 200 });
    const costs = (await owner.get(`/api/mixes/${outer.id}/costs`)).json();
    expect(costs.batches).toEqual([{ batchId: batch.id, costMinor: 150 + 100 }]); // 1.50 a gram of the mix
    expect(costs.parts[0]).toMatchObject({ materialId: mix.product.id, rateMinor: '1.5' });
  });

  test('is refused where a part is less than a scale shows, or there is no such mix', async () => {
    const { a, b } = await shelf();
    const parts = [
      { materialId: a.id, share: '1000' },
      { materialId: b.id, share: '1' },
    ];
    const mix = await mixFixture(owner, [], { parts });
    const small = await owner.post(`/api/mixes/${mix.id}/batches`, { makeGrams: 100 });
    expect(small.json()).toMatchObject({ status: 422, detail: expect.stringMatching(/Make more at once/) });
    expect(await onHand(a.id)).toBe(600);
    expect((await owner.post(`/api/mixes/${randomUUID()}/batches`, { makeGrams: 100 })).statusCode).toBe(404);
  });

  test('is mixed once, however often it is sent; of many at once each has its number and its cost', async () => {
    const { b, mix } = await shelf();
    const key = randomUUID();
    const same = await Promise.all(
      [1, 2, 3].map(() => owner.post(`/api/mixes/${mix.id}/batches`, { makeGrams: 100 }, key)),
    );
    expect(new Set(same.map((answer) => answer.body)).size).toBe(1);
    const many = await Promise.all(
      Array.from({ length: 10 }, () => owner.post(`/api/mixes/${mix.id}/batches`, { makeGrams: 100 })),
    );
    expect(new Set(many.map((answer) => answer.json().number)).size).toBe(10);
    expect(await onHand(b.id)).toBe(5000 - 11 * 50);
  });
});

test('batches of different mixes at once bear different numbers', async () => {
  const all = await Promise.all(Array.from({ length: 6 }, shelf));
  const answers = await Promise.all(
    all.map(({ mix }) => owner.post(`/api/mixes/${mix.id}/batches`, { makeGrams: 100 })),
  );
  expect(answers.map(({ statusCode }) => statusCode)).toEqual(Array(6).fill(201));
  expect(new Set(answers.map((answer) => answer.json().number)).size).toBe(6);
});

describe('taking a batch back', () => {
  test('puts what it drew on the shelf again, at what it had cost and from when it was', async () => {
    const { a, b, mix } = await shelf();
    const { id, lotId } = await batchFixture(owner, mix.id);
    const answer = await tutor.post(`/api/mix-batches/${id}/undoing`, { note: 'Wrong bucket' });
    expect(answer.statusCode).toBe(201);
    expect(answer.json()).toMatchObject({ left: 0, undoing: { note: 'Wrong bucket', at: '2026-03-10T09:00:00.000Z' } });
    expect([await onHand(a.id), await onHand(b.id), await onHand(mix.product.id)]).toEqual([600, 5000, 0]);
    const { worthMinor, lots } = (await owner.get(`/api/materials/${a.id}/costs`)).json();
    expect(worthMinor).toBe(600);
    expect(lots).toMatchObject([
      { quantity: 600, left: 100, supplier: 'Hollow Hill Clays' },
      { quantity: 500, left: 500, supplier: null, receivedOn: '2026-03-03', costMinor: 500 },
    ]);
    const moves = await db.stockMove.findMany({
      where: { kind: 'unmixed', OR: [{ lotId }, { materialId: a.id }] },
      orderBy: { quantity: 'asc' },
    });
    expect(moves.map(({ quantity, costMinor }) => [quantity, costMinor])).toEqual([
      [-1000, -1500],
      [500, 500],
    ]);
  });

  test('is refused once some of it is used, and says how much', async () => {
    const { mix } = await shelf();
    const { id, number } = await batchFixture(owner, mix.id);
    await owner.post(`/api/materials/${mix.product.id}/draws`, { quantity: 30 });
    const answer = await owner.post(`/api/mix-batches/${id}/undoing`, { note: 'Wrong bucket' });
    expect(answer.json()).toMatchObject({
      ...{ type: '/problems/stock-impossible', detail: expect.stringContaining(`30 g of batch ${number} is used`) },
    });
    expect(await db.mixUndoing.count({ where: { batchId: id } })).toBe(0);
  });

  test('happens once, of many who try at once', async () => {
    const { a, mix } = await shelf();
    const { id } = await batchFixture(owner, mix.id);
    const answers = await Promise.all(
      Array.from({ length: 6 }, () => owner.post(`/api/mix-batches/${id}/undoing`, { note: 'Wrong bucket' })),
    );
    expect(answers.map(({ statusCode }) => statusCode).sort()).toEqual([201, 409, 409, 409, 409, 409]);
    expect(answers.find(({ statusCode }) => statusCode === 409)?.json().type).toBe('/problems/already-cancelled');
    expect(await onHand(a.id)).toBe(600);
    expect((await owner.post(`/api/mix-batches/${randomUUID()}/undoing`, { note: 'x' })).statusCode).toBe(404);
  });
});

describe('papers for the bench', () => {
  test('are drawn for a tutor too, and hold no money', async () => {
    const { mix } = await shelf();
    const { id, number } = await batchFixture(owner, mix.id);
    for (const [url, name] of [
      [`/api/mixes/${mix.id}/batch-sheet.pdf?makeGrams=1500`, 'batch-sheet.pdf'],
      [`/api/mix-batches/${id}/labels.pdf?copies=3`, `batch-${number}-labels.pdf`],
    ] as const) {
      const answer = await tutor.get(url);
      expect([answer.statusCode, answer.headers['content-type']]).toEqual([200, 'application/pdf']);
      expect(answer.headers['content-disposition']).toBe(`inline; filename="${name}"`);
      expect(answer.rawPayload.subarray(0, 5).toString()).toBe('%PDF-');
    }
    expect((await tutor.get(`/api/mixes/${mix.id}/batch-sheet.pdf?makeGrams=0`)).statusCode).toBe(422);
    expect((await tutor.get(`/api/mixes/${randomUUID()}/batch-sheet.pdf?makeGrams=10`)).statusCode).toBe(404);
  });
});
