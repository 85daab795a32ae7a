import { beforeAll, describe, expect, test } from 'vitest';
import type { Order } from '../../../src/studio/orders/contract.js';
import type { OrderProposal } from '../../../src/studio/orders/proposal-contract.js';
import type { OutlookItem } from '../../../src/studio/stock-outlook/contract.js';
import { testApp } from '../../support/app.js';
import { bookingFixture } from '../../support/fixtures/bookings.js';
import { coursesFixture } from '../../support/fixtures/courses.js';
import { mixFixture, powderFixture } from '../../support/fixtures/mixes.js';
import { soldBy, supplierFixture } from '../../support/fixtures/suppliers.js';
import { made } from '../../support/fixtures.js';

const { owner, tutor, clock } = await testApp();
let home: Awaited<ReturnType<typeof coursesFixture>>;
const proposed = async (): Promise<OrderProposal> => (await owner.get('/api/order-proposal')).json();
const clayItem = async (): Promise<OutlookItem> =>
  (await owner.get('/api/outlook')).json().items.find((item: OutlookItem) => item.materialId === home.clay.id);

beforeAll(async () => {
  home = await coursesFixture(owner);
  await bookingFixture(owner, (await home.addCourse()).id, 4);
});

describe('what must be ordered', () => {
  test('is told with what to do where nobody is known to sell it', async () => {
    const { suppliers, unsold } = await proposed();
    expect(suppliers).toEqual([]);
    expect(unsold.find(({ materialId }) => materialId === home.clay.id)).toMatchObject({
      needQuantity: 10_000,
      advice: {
        text: 'Say who sells it and in which packs, on the page Shelf.',
        page: 'shelf',
        lookUp: `/api/materials/${home.clay.id}/supply`,
      },
    });
    expect((await tutor.get('/api/order-proposal')).statusCode).toBe(403);
  });

  test('is a batch to mix where it is mixed here and nobody sells it', async () => {
    const powders = [await powderFixture(owner), await powderFixture(owner)].map(({ id }) => id);
    const mix = await mixFixture(owner, powders, {}, home.glaze.id);
    const { toMix, unsold } = await proposed();
    expect(toMix).toMatchObject([{ materialId: home.glaze.id, mixId: mix.id }]);
    // the powders for the batch can't be bought yet either
    expect(unsold.map(({ materialId }) => materialId).sort()).toEqual([home.clay.id, ...powders].sort());
  });

  test('comes in the cheapest packs, one order for a supplier, with what would save the carriage', async () => {
    const seller = await supplierFixture(owner, { freeFromMinor: 5000 });
    await soldBy(owner, home.clay.id, seller.id, [
      { quantity: 5000, priceMinor: 900 },
      { quantity: 12_500, priceMinor: 1760 },
    ]);
    await soldBy(owner, home.glaze.id, seller.id, [{ quantity: 10_000, priceMinor: 1000 }]);
    const { suppliers, unsold } = await proposed();
    expect(unsold).toEqual([]);
    expect(suppliers).toMatchObject([
      {
        ...{ supplierId: seller.id, goodsMinor: 2760, carriageMinor: 950, totalMinor: 3710 },
        toFreeCarriage: {
          ...{ moreMinor: 2240, savesMinor: 950 },
          advice: '£22.40 more makes carriage free and saves £9.50: worth it for what you will use before it spoils.',
        },
      },
    ]);
    const clay = suppliers[0]?.lines.find(({ materialId }) => materialId === home.clay.id);
    expect(clay?.packs).toEqual([{ packQuantity: 12_500, packs: 1, packPriceMinor: 1760, amountMinor: 1760 }]);
    expect(clay?.orderBy).toBe((await clayItem()).orderBy);
  });

  test('comes free at exactly the sum from which carriage is free, and not a penny before', async () => {
    const [{ supplierId, goodsMinor }] = (await proposed()).suppliers as [OrderProposal['suppliers'][number]];
    const seller = (await owner.get(`/api/suppliers/${supplierId}`)).json();
    const { id: _, ...rest } = seller;
    const freeFrom = async (freeFromMinor: number) => {
      const answer = await owner.put(`/api/suppliers/${supplierId}`, { ...rest, freeFromMinor });
      expect(answer.statusCode, answer.body).toBe(200);
      return (await proposed()).suppliers[0];
    };
    expect(await freeFrom(goodsMinor + 1)).toMatchObject({
      ...{ carriageMinor: 950, totalMinor: goodsMinor + 950, toFreeCarriage: { moreMinor: 1, savesMinor: 950 } },
    });
    expect(await freeFrom(goodsMinor)).toMatchObject({
      ...{ carriageMinor: 0, totalMinor: goodsMinor, toFreeCarriage: null },
    });
    const lines = [{ materialId: home.clay.id, packQuantity: 12_500, packs: 2 }]; // 35.20
    await freeFrom(3520);
    expect(await made<Order>(owner, '/api/orders', { supplierId, lines })).toMatchObject({ carriageMinor: 0 });
    await freeFrom(3521);
    expect(await made<Order>(owner, '/api/orders', { supplierId, lines })).toMatchObject({ carriageMinor: 950 });
    await freeFrom(5000);
  });

  test('is on order once it is placed, counts in the outlook, and falls back when it is cancelled', async () => {
    const before = await clayItem();
    const [suggested] = (await proposed()).suppliers;
    const lines = suggested?.lines.flatMap(({ materialId, packs }) =>
      packs.map(({ packQuantity, packs }) => ({ materialId, packQuantity, packs })),
    );
    const order = await made<Order>(owner, '/api/orders', { supplierId: suggested?.supplierId, lines });
    expect(await clayItem()).toEqual(before); // a draft is no order
    const placed = (await owner.post(`/api/orders/${order.id}/placing`)).json();
    const clay = await clayItem();
    expect(clay).toMatchObject({ packs: 0, orderBy: null, shortOn: { oneInTen: null, sure: null } });
    expect(clay.onOrder).toEqual([
      { orderId: order.id, number: order.number, expectedOn: placed.expectedOn, quantity: 12_500 },
    ]);
    expect(await proposed()).toEqual({ suppliers: [], toMix: [], unsold: [] });

    await owner.post(`/api/orders/${order.id}/consignments`, {
      receivedOn: '2026-03-10',
      lots: [{ materialId: home.clay.id, quantity: 2500, costMinor: 352 }],
    });
    expect((await clayItem()).onOrder).toMatchObject([{ quantity: 10_000 }]);
    await clock.set('2026-04-14T05:00:00Z'); // the day of the course: overdue, so that it can't be here before tomorrow
    expect((await clayItem()).shortOn.oneInTen).toBe('2026-04-14');
    await clock.set('2026-03-10T09:00:00Z');
    await owner.post(`/api/orders/${order.id}/cancellation`, { note: 'They have none' });
    expect(await clayItem()).toMatchObject({ onOrder: [], packs: 1 });
  });
});
