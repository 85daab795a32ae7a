import { randomUUID } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { testApp } from '../../support/app.js';
import { glazeFixture, lotFixture, materialFixture } from '../../support/fixtures/materials.js';
import { pricedFixture, saleFixture } from '../../support/fixtures/sales.js';
import { personFixture, studioFixture } from '../../support/fixtures.js';

const { db, owner, tutor, clock } = await testApp();
const { standard, exempt } = await studioFixture(owner);
const ines = await personFixture(owner);

const sell = (body: object, key?: string) =>
  owner.post('/api/sales', { personId: ines.id, quantity: 2000, ...body }, key);
const balanceOf = async (code: string): Promise<number> => {
  const { items } = (await owner.get('/api/account-balances')).json();
  return items.find((a: { code: string }) => a.code === code).balanceMinor;
};
const movesOf = (materialId: string) => db.stockMove.findMany({ where: { materialId }, orderBy: { id: 'asc' } });

describe('selling material', () => {
  test('takes it from the shelf, and the person owes its price from today, VAT inside', async () => {
    const clay = await pricedFixture(owner, standard.id);
    const before = { vat: await balanceOf('vat'), income: await balanceOf('material-income') };
    const answer = await sell({ materialId: clay.id, note: 'for the holidays' });
    expect(answer.statusCode).toBe(201);
    const sold = answer.json();
    expect(sold).toMatchObject({
      ...{ personName: ines.name, materialName: clay.name, unit: 'g', quantity: 2000, keptQuantity: 2000 },
      ...{ priceMinor: 420, grossMinor: 840, vatMinor: 140, taxName: 'Standard', note: 'for the holidays' },
      ...{ owedMinor: 840, paidMinor: 0, creditedMinor: 0, takingsBack: [] },
      ...{ foundQuantity: 0, onHand: 10_500, asksForCount: false },
    });
    expect((await balanceOf('vat')) - before.vat).toBe(-140);
    expect((await balanceOf('material-income')) - before.income).toBe(-700);
    // 2 of 12.5 kg at 18.50 are 2.96
    expect((await movesOf(clay.id)).at(-1)).toMatchObject({ kind: 'sold', quantity: -2000, costMinor: -296 });
    const { items } = (await owner.get('/api/debtors')).json();
    const own = items.find((debtor: { personId: string }) => debtor.personId === ines.id);
    expect(own.charges).toContainEqual(
      expect.objectContaining({
        ...{ kind: 'material', description: `${clay.name}, 2\u00a0kg`, grossMinor: 840, dueMinor: 840 },
        dueOn: '2026-03-10',
      }),
    );
    expect((await owner.get('/api/debtors.csv')).body).toContain(`"material","${clay.name}, 2\u00a0kg","GBP","8.40"`);
    expect((await owner.get(`/api/materials/${clay.id}`)).json().moves[0]).toMatchObject({ kind: 'sold' });
    const { foundQuantity: _, onHand: __, asksForCount: ___, ...shown } = sold;
    expect((await owner.get(`/api/sales/${sold.id}`)).json()).toEqual(shown);
  });

  test('is paid like anything else, with a receipt', async () => {
    const clay = await pricedFixture(owner, standard.id);
    const { chargeId, id } = await saleFixture(owner, ines.id, clay.id);
    const part = { personId: ines.id, method: 'cash', for: [{ chargeId, amountMinor: 840 }] };
    const paid = await owner.post('/api/payments', part);
    expect(paid.statusCode).toBe(201);
    expect((await owner.get(`/api/documents/${paid.json().documentId}/pdf`)).headers['content-type']).toBe(
      'application/pdf',
    );
    const { content } = await db.document.findUniqueOrThrow({ where: { id: paid.json().documentId } });
    expect(JSON.stringify(content)).toContain(`${clay.name}, 2\u00a0kg`);
    expect((await owner.get(`/api/sales/${id}`)).json()).toMatchObject({ paidMinor: 840, owedMinor: 0 });
  });

  test('goes by the price of the sale where one is given, by the litre and by the piece too, rounded once', async () => {
    const glaze = await glazeFixture(owner);
    await lotFixture(owner, glaze.id, { quantity: 5000, costMinor: 9000 });
    const given = { materialId: glaze.id, priceMinor: 2395, taxRateId: exempt.id };
    expect((await sell({ ...given, quantity: 150 })).json()).toMatchObject({
      grossMinor: 359,
      vatMinor: 0,
      onHand: 4850,
    });
    expect((await sell({ ...given, quantity: 1 })).json().grossMinor).toBe(2);
    const brush = await materialFixture(owner, { kind: 'consumable', unit: 'piece', packQuantity: 10 });
    await lotFixture(owner, brush.id, { quantity: 10, costMinor: 2000 });
    expect((await sell({ ...given, materialId: brush.id, priceMinor: 450, quantity: 3 })).json().grossMinor).toBe(1350);
    expect(await db.charge.findFirstOrThrow({ orderBy: { id: 'desc' } })).toMatchObject({
      ...{ description: `${brush.name}, 3\u00a0pieces`, quantity: 3 },
    });
  });

  test('beyond the books is taken as found, and asks for a count', async () => {
    const clay = await pricedFixture(owner, standard.id);
    const sold = (await sell({ materialId: clay.id, quantity: 13_000 })).json();
    expect(sold).toMatchObject({ foundQuantity: 500, onHand: 0, asksForCount: true, quantity: 13_000 });
    expect((await movesOf(clay.id)).map(({ kind, quantity }) => [kind, quantity])).toEqual([
      ['received', 12_500],
      ['sold', -12_500],
      ['found', 500],
      ['sold', -500],
    ]);
  });

  test('is sold once, however often it is sent, and gives nobody the same gram twice', async () => {
    const clay = await pricedFixture(owner, standard.id);
    const key = randomUUID();
    const answers = await Promise.all([1, 2, 3, 4].map(() => sell({ materialId: clay.id }, key)));
    expect(new Set(answers.map(({ body }) => body)).size).toBe(1);
    expect(await db.sale.count({ where: { materialId: clay.id } })).toBe(1);
    await Promise.all(Array.from({ length: 10 }, () => sell({ materialId: clay.id, quantity: 1050 })));
    expect((await owner.get(`/api/materials/${clay.id}`)).json()).toMatchObject({ onHand: 0, asksForCount: false });
  });

  test('without a price or a tax says which is missing, and nothing is half written', async () => {
    const clay = await materialFixture(owner);
    await lotFixture(owner, clay.id);
    const before = [await db.charge.count(), await db.sale.count()];
    const answer = await sell({ materialId: clay.id, taxRateId: standard.id });
    expect([answer.statusCode, answer.json().errors[0].pointer]).toEqual([409, '#/priceMinor']);
    expect(answer.json().type).toBe('/problems/price-incomplete');
    expect((await sell({ materialId: clay.id, priceMinor: 420 })).json().errors[0].pointer).toBe('#/taxRateId');
    // one at 0.01 a kilogram: 400 g of it cost less than half a penny
    const cheap = { materialId: clay.id, taxRateId: standard.id, priceMinor: 1 };
    expect((await sell({ ...cheap, quantity: 400 })).json().errors[0].pointer).toBe('#/quantity');
    expect((await sell({ ...cheap, priceMinor: 100_000_000, quantity: 10_000_000 })).statusCode).toBe(422);
    expect((await sell({ ...cheap, priceMinor: 100_000_001 })).statusCode).toBe(422);
    expect((await sell({ ...cheap, priceMinor: 0 })).statusCode).toBe(422);
    for (const quantity of [0, -5, 1.5, 10_000_001])
      expect((await sell({ materialId: clay.id, quantity })).statusCode).toBe(422);
    expect((await sell({ materialId: randomUUID() })).statusCode).toBe(404);
    expect((await sell({ materialId: clay.id, personId: randomUUID() })).statusCode).toBe(404);
    expect((await sell({ ...cheap, taxRateId: randomUUID() })).statusCode).toBe(404);
    expect((await owner.get(`/api/sales/${randomUUID()}`)).statusCode).toBe(404);
    expect([await db.charge.count(), await db.sale.count()]).toEqual(before);
    expect((await owner.get(`/api/materials/${clay.id}`)).json().onHand).toBe(12_500);
    expect((await tutor.post('/api/sales', { personId: ines.id, materialId: clay.id, quantity: 1 })).statusCode).toBe(
      403,
    );
    expect((await tutor.get('/api/sales')).statusCode).toBe(403);
  });

  test('is listed with the latest first, by person and by material, a page at a time', async () => {
    const [bo, clay, other] = [
      await personFixture(owner),
      await pricedFixture(owner, standard.id),
      await pricedFixture(owner, standard.id),
    ];
    const first = await saleFixture(owner, bo.id, clay.id);
    const second = await saleFixture(owner, bo.id, other.id);
    const third = await saleFixture(owner, ines.id, clay.id);
    const ids = async (query: string) =>
      (await owner.get(`/api/sales?${query}`)).json().items.map((sale: { id: string }) => sale.id);
    expect(await ids(`personId=${bo.id}`)).toEqual([second.id, first.id]);
    expect(await ids(`materialId=${clay.id}`)).toEqual([third.id, first.id]);
    expect(await ids(`materialId=${clay.id}&personId=${bo.id}`)).toEqual([first.id]);
    const page = (await owner.get('/api/sales?limit=2')).json();
    expect(page.items.map((sale: { id: string }) => sale.id)).toEqual([third.id, second.id]);
    expect((await ids(`limit=1&after=${page.next}`))[0]).toBe(first.id);
  });
});

describe('what a material is sold for', () => {
  test('is nothing until somebody says it, and what was sold stays at its price', async () => {
    const clay = await materialFixture(owner);
    const url = `/api/materials/${clay.id}/selling-price`;
    expect((await owner.get(url)).json()).toEqual({ priceMinor: null, taxRateId: null });
    expect((await owner.put(url, { priceMinor: 420, taxRateId: standard.id })).json()).toEqual({
      ...{ priceMinor: 420, taxRateId: standard.id },
    });
    const { id } = await saleFixture(owner, ines.id, clay.id);
    await owner.put(url, { priceMinor: 500, taxRateId: null });
    expect((await owner.get(url)).json()).toEqual({ priceMinor: 500, taxRateId: null });
    expect((await owner.get(`/api/sales/${id}`)).json()).toMatchObject({ priceMinor: 420, grossMinor: 840 });
    expect((await sell({ materialId: clay.id })).json().errors[0].pointer).toBe('#/taxRateId');
    expect((await owner.put(url, { priceMinor: 0, taxRateId: null })).statusCode).toBe(422);
    expect((await owner.put(url, { priceMinor: 5, taxRateId: randomUUID() })).statusCode).toBe(404);
    expect((await owner.get(`/api/materials/${randomUUID()}/selling-price`)).statusCode).toBe(404);
    expect((await tutor.get(url)).statusCode).toBe(403);
  });
});

test('a reminder asks for it like for any charge', async () => {
  const [eve, clay] = [await personFixture(owner), await pricedFixture(owner, standard.id)];
  await saleFixture(owner, eve.id, clay.id);
  await clock.set('2026-03-20T09:00:00Z');
  const reminded = await owner.post(`/api/people/${eve.id}/reminders`);
  expect(reminded.json()).toMatchObject({ dueMinor: 840 });
  await clock.set('2026-03-10T09:00:00Z');
});
