import { randomUUID } from 'node:crypto';
import { beforeAll, describe, expect, test } from 'vitest';
import type { FiringBill } from '../../../src/studio/firings/contract.js';
import { testApp } from '../../support/app.js';
import { coursesFixture, workshopFixture } from '../../support/fixtures/courses.js';
import { firedFixture, firingFixture, step } from '../../support/fixtures/firings.js';
import { kilnFixture, tariffFixture } from '../../support/fixtures/kilns.js';
import { MUG, piecesFixture } from '../../support/fixtures/ware.js';
import { personFixture } from '../../support/fixtures.js';

const { db, owner, tutor } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
beforeAll(async () => {
  home = await coursesFixture(owner);
  await tariffFixture(owner);
});
const glazed = (makerId: string, count = 1, changes: object = {}) =>
  piecesFixture(owner, makerId, { stage: 'glazed', ware: [{ ...MUG, count }], ...changes });
const firingNew = async () => {
  const shop = await workshopFixture(owner);
  return firingFixture(owner, { kilnId: shop.kiln.id, scheduleId: shop.stoneware.id });
};
const bill = (id: string, key?: string) => owner.post(`/api/firings/${id}/billing`, {}, key);

/** A firing of one mug of somebody who pays for it, settled: 46.37 of 58.15 come to 46 pence. */
async function settled() {
  const [maker, firing] = [await personFixture(owner), await firingNew()];
  await firedFixture(owner, firing.id, await glazed(maker.id));
  await step(owner, firing.id, 'settlement', {});
  return { maker, firing };
}

describe('billing a firing', () => {
  test('charges each maker who pays their shares and VAT; broken, owed and course ware costs nobody more', async () => {
    const [ines, tom, ada, kim] = [
      await personFixture(owner, 'Ines Duval'),
      await personFixture(owner, 'Tom Ashby'),
      await personFixture(owner, 'Ada Finch'),
      await personFixture(owner, 'Kim Orr'),
    ];
    const { id: courseId } = await home.addCourse();
    const ware = [
      ...(await glazed(ines.id, 2)),
      ...(await glazed(tom.id)),
      ...(await glazed(ada.id)),
      ...(await glazed(kim.id, 1, { courseId, firingPaidBy: 'course' })),
    ];
    const firing = await firingNew();
    const placements = ware.map(({ id, makerId }) => ({ pieceId: id, layer: 1, studioPays: makerId === ada.id }));
    await step(owner, firing.id, 'loading', { placements });
    await step(owner, firing.id, 'readings', { at: '2026-03-08T19:55:00Z', kwh: '10423.7' });
    await step(owner, firing.id, 'start', { startedAt: '2026-03-08T20:00:00Z' });
    await step(owner, firing.id, 'readings', { at: '2026-03-09T08:05:00Z', kwh: '10510.1' });
    const outcomes = ware.map(({ id, makerId }) => ({ pieceId: id, outcome: makerId === tom.id ? 'broken' : 'good' }));
    await step(owner, firing.id, 'unloading', { endedAt: '2026-03-09T08:00:00Z', outcomes });
    const cost = await step<{ shares: { amountMinor: number; borneBy: string }[] }>(owner, firing.id, 'settlement', {});
    expect(cost.shares.map((share) => [share.amountMinor, share.borneBy])).toEqual([
      [55, 'maker'],
      [55, 'maker'],
      [55, 'studio'],
      [54, 'studio'],
      [54, 'course'],
    ]);

    const answer = await bill(firing.id);
    expect(answer.statusCode).toBe(200);
    const bills: FiringBill[] = answer.json().items;
    // 0.55 + 0.55 net, of which 36.00 of 58.15 is the time; 20 % of 1.10 is 0.22
    expect(bills).toMatchObject([
      { personId: ines.id, personName: 'Ines Duval', pieces: 2, netMinor: 110, labourMinor: 68, grossMinor: 132 },
    ]);
    const charge = await db.charge.findUniqueOrThrow({
      where: { id: bills[0]?.chargeId ?? '' },
      include: { instalments: true },
    });
    expect(charge).toMatchObject({ personId: ines.id, kind: 'firing', quantity: 2, grossMinor: 132, inAdvance: false });
    expect(charge.description).toBe(
      `Share of glaze firing ${firing.number}, 8 March 2026: 2 pieces (before VAT £0.42 for the kiln, £0.68 for our work)`,
    );
    expect(charge.instalments).toMatchObject([{ amountMinor: 132, dueOn: new Date('2026-03-10') }]); // at once
    const shown = (await owner.get(`/api/firings/${firing.id}/shares`)).json();
    expect(shown.charges).toEqual([
      { personId: ines.id, personName: 'Ines Duval', chargeId: charge.id, grossMinor: 132, includedMinor: 0 },
    ]);
  });

  test('happens once, however many ask at once, and with one effect for one key', async () => {
    const { maker, firing } = await settled();
    const answers = await Promise.all(Array.from({ length: 8 }, () => bill(firing.id)));
    expect(answers.map((answer) => answer.statusCode).sort()).toEqual([200, ...Array(7).fill(409)]);
    expect(answers.find((answer) => answer.statusCode === 409)?.json().detail).toContain('has already been billed');
    expect(await db.charge.count({ where: { personId: maker.id } })).toBe(1);
    const other = await settled();
    const key = randomUUID();
    const same = await Promise.all(Array.from({ length: 6 }, () => bill(other.firing.id, key)));
    expect(new Set(same.map((answer) => answer.body)).size).toBe(1);
    expect(await db.charge.count({ where: { personId: other.maker.id } })).toBe(1);
  });

  test('asks nobody for nothing', async () => {
    const maker = await personFixture(owner);
    const vast = await kilnFixture(owner, { shape: 'rectangular', widthMm: 3000, depthMm: 3000, heightMm: 3000 });
    const firing = await firingFixture(owner, { kilnId: vast.id, scheduleId: home.stoneware.id });
    const tiny = { ...MUG, size: { widthMm: 10, depthMm: 10, heightMm: 10 } };
    await firedFixture(owner, firing.id, await piecesFixture(owner, maker.id, { stage: 'glazed', ware: [tiny] }));
    await step(owner, firing.id, 'settlement', {});
    expect((await bill(firing.id)).json()).toEqual({ items: [] });
    expect(await db.charge.count({ where: { personId: maker.id } })).toBe(0);
  });

  test('waits for the settlement, and is the owner’s', async () => {
    const firing = await firingNew();
    expect((await bill(firing.id)).json()).toMatchObject({
      type: '/problems/wrong-state',
      detail: expect.stringContaining('Work out its fees first'),
    });
    expect((await tutor.post(`/api/firings/${firing.id}/billing`, {})).statusCode).toBe(403);
    expect((await bill(randomUUID())).statusCode).toBe(404);
  });
});

describe('a studio that is not registered for VAT', () => {
  test('asks for the net cost', async () => {
    const studio = (await owner.get('/api/studio')).json();
    const put = (vatNumber: string | null) => owner.put('/api/studio', { ...studio, vatNumber });
    expect((await put(null)).statusCode).toBe(200);
    const { firing } = await settled();
    expect((await bill(firing.id)).json().items).toMatchObject([{ netMinor: 55, grossMinor: 55 }]);
    await put(studio.vatNumber);
  });
});
