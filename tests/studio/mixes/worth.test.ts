import fc from 'fast-check';
import { beforeAll, expect, test } from 'vitest';
import type { MixBatch } from '../../../src/studio/mixes/contract.js';
import { testApp } from '../../support/app.js';
import { lotFixture } from '../../support/fixtures/materials.js';
import { mixFixture, powderFixture } from '../../support/fixtures/mixes.js';
import { studioFixture } from '../../support/fixtures.js';

const { db, owner } = await testApp();
beforeAll(() => studioFixture(owner));

const step = fc.oneof(
  fc.record({
    did: fc.constant('deliver' as const),
    to: fc.nat(1),
    quantity: fc.integer({ min: 1, max: 900 }),
    cost: fc.nat(999),
  }),
  fc.record({ did: fc.constant('mix' as const), grams: fc.integer({ min: 2, max: 700 }) }),
  fc.record({ did: fc.constant('use' as const), of: fc.nat(2), quantity: fc.integer({ min: 1, max: 300 }) }),
  fc.record({ did: fc.constant('undo' as const), which: fc.nat(9) }),
);

test('mixing and taking back neither make nor lose a penny, whatever comes between', async () => {
  const property = fc.asyncProperty(fc.array(step, { minLength: 3, maxLength: 12 }), async (steps) => {
    const parts = [await powderFixture(owner), await powderFixture(owner)];
    const mix = await mixFixture(
      owner,
      parts.map(({ id }) => id),
    );
    const materials = [...parts.map(({ id }) => id), mix.product.id];
    const batches: MixBatch[] = [];
    let paid = 0;
    for (const one of steps) {
      if (one.did === 'deliver') {
        await lotFixture(owner, materials[one.to] ?? '', { quantity: one.quantity, costMinor: one.cost });
        paid += one.cost;
      } else if (one.did === 'mix') {
        batches.push((await owner.post(`/api/mixes/${mix.id}/batches`, { makeGrams: one.grams })).json());
      } else if (one.did === 'use') {
        await owner.post(`/api/materials/${materials[one.of]}/draws`, { quantity: one.quantity });
      } else if (batches.length > 0) {
        const { id } = batches[one.which % batches.length] as MixBatch;
        const answer = await owner.post(`/api/mix-batches/${id}/undoing`, { note: 'By mistake' });
        expect([201, 409]).toContain(answer.statusCode);
      }
    }
    const moves = await db.stockMove.findMany({ where: { materialId: { in: materials } }, include: { mixDraw: true } });
    const worth = moves.reduce((sum, { costMinor }) => sum + costMinor, 0);
    const used = moves.filter(({ kind, mixDraw }) => kind === 'drawn' && mixDraw === null);
    expect(worth - used.reduce((sum, { costMinor }) => sum + costMinor, 0)).toBe(paid);
  });
  await fc.assert(property, { numRuns: 25, seed: 20260310 });
});
