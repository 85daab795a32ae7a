import { randomUUID } from 'node:crypto';
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Consignment } from '../../../src/studio/materials/consignment-contract.js';
import { testApp } from '../../support/app.js';
import { lotFixture, materialFixture } from '../../support/fixtures/materials.js';
import { made, studioFixture } from '../../support/fixtures.js';

const { db, owner, tutor } = await testApp();
beforeAll(() => studioFixture(owner));

const draw = (id: string, quantity: number) => owner.post(`/api/materials/${id}/draws`, { quantity });
const receive = (lots: object[]) =>
  made<Consignment>(owner, '/api/consignments', { supplier: 'Hollow Hill Clays', receivedOn: '2026-03-04', lots });
const bill = (id: string, amountMinor: number, key?: string) =>
  owner.post(`/api/consignments/${id}/carriage`, { amountMinor, note: 'Pallet' }, key);
const worthOfDifference = async (id: string) => (await owner.get(`/api/materials/${id}/costs`)).json();
const costsOf = async (materialId: string) =>
  (await db.stockMove.findMany({ where: { materialId }, orderBy: { id: 'asc' } })).map(({ kind, costMinor }) => [
    kind,
    costMinor,
  ]);

describe('the carriage of what came together', () => {
  test('lies on the lots by what they cost; what was drawn already leaves the shelf with its part', async () => {
    const [clay, glaze] = [await materialFixture(owner), await materialFixture(owner)];
    const came = await receive([
      { materialId: clay.id, quantity: 1000, costMinor: 3000 },
      { materialId: glaze.id, quantity: 10, costMinor: 1000 },
    ]);
    await draw(clay.id, 250);
    const answer = await bill(came.id, 1000);
    expect(answer.statusCode).toBe(201);
    const [clayLot, glazeLot] = came.lots.map(({ lotId }) => lotId);
    expect(answer.json()).toMatchObject({
      shares: expect.arrayContaining([
        { lotId: clayLot, materialId: clay.id, amountMinor: 750, usedMinor: 188 }, // a quarter of 37.50, less the 7.50 it cost
        { lotId: glazeLot, materialId: glaze.id, amountMinor: 250, usedMinor: 0 },
      ]),
    });
    expect(await costsOf(clay.id)).toEqual([
      ['received', 3000],
      ['drawn', -750],
      ['carriage', 750],
      ['carriage', -188],
    ]);
    expect(await worthOfDifference(clay.id)).toMatchObject({
      worthMinor: 2812,
      lots: [{ costMinor: 3750, leftWorthMinor: 2812 }],
    });
    expect((await worthOfDifference(glaze.id)).packPrice.amountMinor).toBe(125 * 12_500);
    await draw(clay.id, 750);
    expect((await costsOf(clay.id)).reduce((sum, [, minor]) => sum + Number(minor), 0)).toBe(0);
    expect((await owner.get(`/api/consignments/${came.id}`)).json()).toMatchObject({
      lots: [{ costMinor: 3750 }, { costMinor: 1250 }],
    });
  });

  test('is used exactly once, whatever is drawn before, between and after the bills', async () => {
    const step = fc.oneof(
      fc.record({ draw: fc.integer({ min: 1, max: 60 }), of: fc.nat(2) }),
      fc.record({ carriage: fc.integer({ min: 1, max: 997 }) }),
    );
    const lots = fc.array(fc.record({ quantity: fc.integer({ min: 1, max: 97 }), costMinor: fc.nat(1009) }), {
      ...{ minLength: 3, maxLength: 3 },
    });
    await fc.assert(
      fc.asyncProperty(lots, fc.array(step, { maxLength: 7 }), async (bought, steps) => {
        const ids = [await materialFixture(owner), await materialFixture(owner), await materialFixture(owner)].map(
          ({ id }) => id,
        );
        const came = await receive(bought.map((lot, i) => ({ ...lot, materialId: ids[i] })));
        for (const next of steps)
          if ('draw' in next) await draw(ids[next.of] as string, next.draw);
          else expect((await bill(came.id, next.carriage)).statusCode).toBe(201);
        const spent = steps.reduce((sum, next) => sum + ('carriage' in next ? next.carriage : 0), 0);
        const moves = await db.stockMove.findMany({ where: { materialId: { in: ids } } });
        const [into, out] = [1, -1].map((sign) =>
          moves.reduce((sum, { costMinor }) => sum + Math.max(0, sign * costMinor), 0),
        );
        let left = 0;
        for (const id of ids) left += (await worthOfDifference(id)).worthMinor;
        expect(into).toBe(bought.reduce((sum, { costMinor }) => sum + costMinor, spent));
        expect(left).toBe(Number(into) - Number(out));
        for (const id of ids) if ((await owner.get(`/api/materials/${id}`)).json().onHand > 0) await draw(id, 97);
        const all = await db.stockMove.aggregate({ where: { materialId: { in: ids } }, _sum: { costMinor: true } });
        expect(all._sum.costMinor).toBe(0);
      }),
      { numRuns: 12 },
    );
  });

  test('is billed once for a key, and refused where it is nothing or for nothing', async () => {
    const clay = await materialFixture(owner);
    const came = await receive([{ materialId: clay.id, quantity: 10, costMinor: 0 }]);
    const key = randomUUID();
    await Promise.all([1, 2, 3].map(() => bill(came.id, 500, key)));
    expect(await db.carriageBill.count({ where: { consignmentId: came.id } })).toBe(1);
    expect((await bill(came.id, 0)).statusCode).toBe(422);
    expect((await bill(randomUUID(), 5)).statusCode).toBe(404);
    expect((await owner.get(`/api/consignments/${randomUUID()}`)).statusCode).toBe(404);
    expect((await tutor.post(`/api/consignments/${came.id}/carriage`, { amountMinor: 5 })).statusCode).toBe(403);
    const torn = {
      supplier: 'Hill',
      receivedOn: '2026-03-04',
      lots: [{ materialId: randomUUID(), quantity: 1, costMinor: 1 }],
    };
    expect((await owner.post('/api/consignments', torn)).statusCode).toBe(404);
    expect(await db.consignment.count({ where: { supplier: 'Hill' } })).toBe(0);
    expect((await owner.post('/api/consignments', { ...torn, lots: [] })).statusCode).toBe(422);
  });

  test('meets draws at the same time without losing a penny', async () => {
    const clay = await materialFixture(owner);
    const came = await receive([{ materialId: clay.id, quantity: 100, costMinor: 997 }]);
    const answers = await Promise.all([1, 2, 3, 4].flatMap(() => [draw(clay.id, 25), bill(came.id, 101)]));
    expect(answers.map(({ statusCode }) => statusCode)).toEqual(Array(8).fill(201));
    expect((await costsOf(clay.id)).reduce((sum, [, minor]) => sum + Number(minor), 0)).toBe(0);
  });
});

describe('sending back', () => {
  test('takes from that lot at its cost, and keeps the credit', async () => {
    const clay = await materialFixture(owner);
    await lotFixture(owner, clay.id, { receivedOn: '2026-02-01' });
    const lot = await lotFixture(owner, clay.id, { quantity: 1000, costMinor: 301 });
    const body = { lotId: lot.id, quantity: 500, creditMinor: 120, note: 'Full of plaster' };
    const key = randomUUID();
    const [answer] = await Promise.all([1, 2].map(() => owner.post(`/api/materials/${clay.id}/returns`, body, key)));
    const { note: _, ...sent } = body;
    expect(answer?.json()).toEqual({ ...sent, moveId: expect.any(String), costMinor: 151, left: 500 });
    expect((await owner.get(`/api/materials/${clay.id}`)).json()).toMatchObject({
      ...{ onHand: 13_000, asksForCount: false },
      moves: [{ kind: 'returned', quantity: -500, lotId: lot.id, note: 'Full of plaster' }, {}, {}],
    });
    expect(await db.supplierCredit.findMany()).toMatchObject([{ amountMinor: 120 }]);
    expect((await owner.post(`/api/materials/${clay.id}/returns`, { ...body, quantity: 501 })).json()).toMatchObject({
      type: '/problems/stock-impossible',
      detail: 'Only 500 of the lot is left, less than 501. Return less, or count it.',
    });
    const other = await materialFixture(owner);
    expect((await owner.post(`/api/materials/${other.id}/returns`, body)).statusCode).toBe(404);
    await draw(other.id, 5);
    await owner.post(`/api/materials/${other.id}/counts`, { counted: 50, explanation: 'Behind the kiln' });
    const found = await db.lot.findFirstOrThrow({ where: { materialId: other.id, quantity: 50 } });
    const nobody = { ...body, lotId: found.id, quantity: 1 };
    expect((await owner.post(`/api/materials/${other.id}/returns`, nobody)).json().detail).toMatch(
      /no supplier to return it to/,
    );
    expect((await tutor.post(`/api/materials/${clay.id}/returns`, body)).statusCode).toBe(403);
  });
});

describe('reclaiming', () => {
  test('makes a lot of its own, free or at what the work cost, that tells no price', async () => {
    const clay = await materialFixture(owner);
    await lotFixture(owner, clay.id);
    const before = (await worthOfDifference(clay.id)).packPrice;
    const answer = await owner.post(`/api/materials/${clay.id}/reclaim`, { quantity: 4000, costMinor: 350 });
    expect([answer.statusCode, answer.json()]).toMatchObject([
      201,
      { supplier: null, receivedOn: '2026-03-10', quantity: 4000, left: 4000, costMinor: 350, leftWorthMinor: 350 },
    ]);
    expect(await worthOfDifference(clay.id)).toMatchObject({ worthMinor: 2200, packPrice: before });
    const key = randomUUID();
    await Promise.all([1, 2].map(() => owner.post(`/api/materials/${clay.id}/reclaim`, { quantity: 10 }, key)));
    expect((await owner.get(`/api/materials/${clay.id}`)).json()).toMatchObject({
      onHand: 16_510,
      asksForCount: false,
    });
    const boxes = await materialFixture(owner, { kind: 'packaging', unit: 'piece' });
    expect((await owner.post(`/api/materials/${boxes.id}/reclaim`, { quantity: 10 })).json().detail).toMatch(
      /only clay/,
    );
    expect((await owner.post(`/api/materials/${randomUUID()}/reclaim`, { quantity: 10 })).statusCode).toBe(404);
    expect((await tutor.post(`/api/materials/${clay.id}/reclaim`, { quantity: 10 })).statusCode).toBe(403);
  });
});
