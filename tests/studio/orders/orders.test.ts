import { randomUUID } from 'node:crypto';
import { parse } from 'csv-parse/sync';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Order } from '../../../src/studio/orders/contract.js';
import { testApp } from '../../support/app.js';
import { glazeFixture, materialFixture } from '../../support/fixtures/materials.js';
import { soldBy, supplierFixture } from '../../support/fixtures/suppliers.js';
import { made, studioFixture } from '../../support/fixtures.js';

const { db, owner, tutor } = await testApp();
beforeAll(() => studioFixture(owner));

const BAG = { quantity: 12_500, priceMinor: 1850 };
const POT = { quantity: 500, priceMinor: 1200 };

/** A draft of 4 bags of clay (74.00) and 2 pots of glaze (24.00), with 9.50 carriage. */
async function draft(changes: object = {}) {
  const seller = await supplierFixture(owner);
  const [clay, glaze] = [await materialFixture(owner), await glazeFixture(owner)];
  await soldBy(owner, clay.id, seller.id, [BAG]);
  await soldBy(owner, glaze.id, seller.id, [POT]);
  const lines = [
    { materialId: clay.id, packQuantity: 12_500, packs: 4 },
    { materialId: glaze.id, packQuantity: 500, packs: 2 },
  ];
  const body = { supplierId: seller.id, lines, ...changes };
  const order = await made<Order>(owner, '/api/orders', body);
  return { seller, clay, glaze, body, order, at: `/api/orders/${order.id}` };
}
const stateOf = async (at: string) => (await owner.get(at)).json().state;
const lot = (materialId: string, quantity: number, costMinor: number) => ({ materialId, quantity, costMinor });
const arrived = (...lots: object[]) => ({ receivedOn: '2026-03-10', lots });

describe('drafting an order', () => {
  test('takes the prices of today, with the carriage', async () => {
    const { order, seller, clay, at } = await draft({ note: 'Ring before you come' });
    expect(order).toMatchObject({
      ...{ supplier: seller.name, state: 'drafted', goodsMinor: 9800, carriageMinor: 950, totalMinor: 10_750 },
      ...{ expectedOn: null, documentId: null, note: 'Ring before you come' },
      events: [{ kind: 'drafted', note: '' }],
    });
    expect(order.lines).toContainEqual({
      ...{ materialId: clay.id, name: clay.name, unit: 'g', packQuantity: 12_500, packs: 4 },
      ...{ packPriceMinor: 1850, amountMinor: 7400 },
    });
    await soldBy(owner, clay.id, seller.id, [{ ...BAG, priceMinor: 9999 }]);
    expect((await owner.get(at)).json()).toEqual(order);
    expect((await owner.get('/api/orders?limit=200')).json().items).toContainEqual(order);
  });

  test('brings the goods free of carriage from the sum on from which they are', async () => {
    const { body } = await draft();
    const [clay, glaze] = body.lines;
    const dear = {
      ...body,
      lines: [
        { ...clay, packs: 1 },
        { ...glaze, packs: 11 },
      ],
    }; // 18.50 + 132.00
    expect((await owner.post('/api/orders', dear)).json()).toMatchObject({ goodsMinor: 15_050, carriageMinor: 0 });
  });

  test('is refused for what that supplier does not sell so', async () => {
    const { body, clay } = await draft();
    const other = await supplierFixture(owner);
    const [line] = body.lines;
    const before = await db.supplyOrder.count();
    for (const [changes, status, detail] of [
      [{ lines: [{ ...line, packQuantity: 25_000 }] }, 422, /must be a pack in which/],
      [{ supplierId: other.id }, 422, /must be a pack in which/],
      [{ lines: [{ ...line, materialId: randomUUID() }] }, 422, /must be a pack in which/],
      [{ lines: [line, line] }, 422, /one line/],
      [{ lines: [] }, 422, /./],
      [{ lines: [{ ...line, packs: 0 }] }, 422, /./],
      [{ supplierId: randomUUID() }, 404, /No supplier has this id/],
    ] as const) {
      const answer = await owner.post('/api/orders', { ...body, ...changes });
      expect([answer.statusCode, answer.json().detail]).toEqual([status, expect.stringMatching(detail)]);
    }
    expect(await db.supplyOrder.count()).toBe(before);
    expect((await tutor.post('/api/orders', body)).statusCode).toBe(403);
    expect((await tutor.get('/api/orders')).statusCode).toBe(403);
    expect(clay.id).toBe(line?.materialId);
  });

  test('is done once for a key, and each has a number of its own', async () => {
    const { body } = await draft();
    const key = randomUUID();
    const same = await Promise.all([1, 2, 3].map(() => owner.post('/api/orders', body, key)));
    expect(new Set(same.map((answer) => answer.body)).size).toBe(1);
    const others = await Promise.all([1, 2, 3, 4].map(() => owner.post('/api/orders', body)));
    expect(others.map(({ statusCode }) => statusCode)).toEqual([201, 201, 201, 201]);
    const numbers = (await db.supplyOrder.findMany({ orderBy: { number: 'asc' } })).map(({ number }) => number);
    expect(numbers).toEqual(numbers.map((_, i) => i + 1));
  });
});

describe('placing an order', () => {
  test('issues its paper, and awaits it by the longest lead time in it', async () => {
    const { at, order, seller } = await draft();
    const answer = await owner.post(`${at}/placing`);
    expect(answer.statusCode).toBe(201);
    // the glaze takes ten days, the supplier six and the clay seven
    expect(answer.json()).toMatchObject({ state: 'placed', expectedOn: '2026-03-20', documentId: expect.any(String) });
    const paper = await db.document.findUniqueOrThrow({ where: { id: answer.json().documentId } });
    expect(paper).toMatchObject({
      kind: 'order',
      content: {
        number: String(order.number).padStart(4, '0'),
        supplier: { name: seller.name, addressLines: ['4 Pit Lane', 'Ostlemere'] },
        lines: expect.arrayContaining([expect.objectContaining({ pack: '12.5\u00a0kg', packs: 4, amountMinor: 7400 })]),
        totalMinor: 10_750,
      },
    });
    const pdf = await owner.get(`/api/documents/${answer.json().documentId}/pdf`);
    expect([pdf.statusCode, pdf.rawPayload.subarray(0, 5).toString()]).toEqual([200, '%PDF-']);
  });

  test('is done once, also where it is sent at once', async () => {
    const { at, order } = await draft();
    const answers = await Promise.all([1, 2, 3, 4].map(() => owner.post(`${at}/placing`)));
    expect(answers.map(({ statusCode }) => statusCode).sort()).toEqual([201, 409, 409, 409]);
    expect(answers.find(({ statusCode }) => statusCode === 409)?.json()).toMatchObject({
      type: '/problems/order-state',
      detail: `Order ${order.number} is placed and can't be placed. Look it up again.`,
    });
    expect(await db.supplyOrderEvent.count({ where: { orderId: order.id, kind: 'placed' } })).toBe(1);
  });

  test('takes another day, but none that has passed', async () => {
    const { at } = await draft();
    expect((await owner.post(`${at}/placing`, { expectedOn: '2026-03-09' })).json().errors).toMatchObject([
      { pointer: '#/expectedOn' },
    ]);
    expect(await stateOf(at)).toBe('drafted');
    const key = randomUUID();
    const [once, twice] = [1, 2].map(() => owner.post(`${at}/placing`, { expectedOn: '2026-03-12' }, key));
    expect((await once)?.json()).toMatchObject({ expectedOn: '2026-03-12' });
    expect((await twice)?.body).toBe((await once)?.body);
    expect((await owner.post(`/api/orders/${randomUUID()}/placing`)).statusCode).toBe(404);
    expect((await tutor.post(`${at}/placing`)).statusCode).toBe(403);
  });
});

describe('what comes of an order', () => {
  test('is received in part and in full, a lot of each material', async () => {
    const { at, clay, glaze, seller, order } = await draft();
    await owner.post(`${at}/placing`);
    const answer = await owner.post(
      `${at}/consignments`,
      arrived(lot(glaze.id, 500, 1200), lot(clay.id, 50_000, 7400)),
    );
    expect(answer.json()).toMatchObject({
      ...{ supplier: seller.name, receivedOn: '2026-03-10', orderId: order.id },
      lots: [lot(glaze.id, 500, 1200), lot(clay.id, 50_000, 7400)],
    });
    expect((await owner.get(at)).json()).toMatchObject({
      state: 'partReceived',
      arrivals: expect.arrayContaining([{ materialId: glaze.id, ordered: 1000, received: 500 }]),
    });
    expect((await owner.get(`/api/materials/${clay.id}`)).json()).toMatchObject({
      onHand: 50_000,
      lots: [{ supplier: seller.name }],
    });
    await owner.post(`${at}/consignments`, arrived(lot(glaze.id, 500, 1200)));
    expect(await stateOf(at)).toBe('received');
    expect((await owner.post(`${at}/consignments`, arrived(lot(glaze.id, 1, 1)))).statusCode).toBe(409);
  });

  test('is refused before it is placed, for what was not ordered, and half-way', async () => {
    const { at, clay, glaze } = await draft();
    const post = (...lots: object[]) => owner.post(`${at}/consignments`, arrived(...lots));
    expect((await post(lot(clay.id, 1, 1))).json().type).toBe('/problems/order-state');
    await owner.post(`${at}/placing`);
    const other = await materialFixture(owner);
    const answer = await post(lot(clay.id, 1, 1), lot(other.id, 1, 1));
    expect(answer.json()).toMatchObject({ status: 422, errors: [{ pointer: '#/lots/1/materialId' }] });
    const future = { ...arrived(lot(clay.id, 1, 1), lot(glaze.id, 1, 1)), receivedOn: '2026-03-11' };
    expect((await owner.post(`${at}/consignments`, future)).statusCode).toBe(422);
    expect(await db.lot.count({ where: { materialId: { in: [clay.id, other.id] } } })).toBe(0);
    expect(await stateOf(at)).toBe('placed');
  });

  test('comes once for a key', async () => {
    const { at, clay } = await draft();
    await owner.post(`${at}/placing`);
    const key = randomUUID();
    await Promise.all([1, 2, 3].map(() => owner.post(`${at}/consignments`, arrived(lot(clay.id, 12_500, 1850)), key)));
    expect(await db.lot.count({ where: { materialId: clay.id } })).toBe(1);
  });
});

describe('cancelling an order', () => {
  test('ends a draft, a placed one, and what has not come of one', async () => {
    const [first, second] = [await draft(), await draft()];
    expect((await owner.post(`${first.at}/cancellation`, { note: 'Too dear' })).json()).toMatchObject({
      state: 'cancelled',
      events: [{ kind: 'drafted' }, { kind: 'cancelled', note: 'Too dear' }],
    });
    expect((await owner.post(`${first.at}/placing`)).statusCode).toBe(409);
    await owner.post(`${second.at}/placing`);
    await owner.post(`${second.at}/consignments`, arrived(lot(second.clay.id, 12_500, 1850)));
    expect((await owner.post(`${second.at}/cancellation`)).json().state).toBe('received');
    expect((await owner.post(`${second.at}/cancellation`)).statusCode).toBe(409);
    expect((await owner.post(`/api/orders/${randomUUID()}/cancellation`)).statusCode).toBe(404);
  });
});

describe('the lines as CSV', () => {
  test('say the same as the order, by RFC 4180, and begin no formula', async () => {
    const seller = await supplierFixture(owner, { name: '=Hill; "Clays", & Sons' });
    const clay = await materialFixture(owner);
    await soldBy(owner, clay.id, seller.id, [BAG]);
    const lines = [{ materialId: clay.id, packQuantity: 12_500, packs: 4 }];
    const order = await made<Order>(owner, '/api/orders', { supplierId: seller.id, lines });
    const answer = await owner.get(`/api/orders/${order.id}/lines.csv`);
    expect(answer.headers['content-type']).toBe('text/csv; charset=utf-8');
    expect(answer.body.startsWith('\ufeff')).toBe(true);
    expect(answer.body).toMatch(/\r\n$/);
    const rows: Record<string, string>[] = parse(answer.body, { bom: true, columns: true });
    expect(rows).toEqual([
      {
        ...{
          order: String(order.number),
          supplier: `'${seller.name}`,
          what: clay.name,
          'in a pack': '12500',
          unit: 'g',
        },
        ...{ packs: '4', 'price of a pack': '18.50', amount: '74.00', currency: 'GBP' },
      },
      expect.objectContaining({ what: 'Carriage', amount: '9.50' }),
    ]);
    expect((await tutor.get(`/api/orders/${order.id}/lines.csv`)).statusCode).toBe(403);
    expect((await owner.get(`/api/orders/${randomUUID()}/lines.csv`)).statusCode).toBe(404);
  });
});
