import { randomUUID } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Sale } from '../../../src/studio/sales/contract.js';
import { testApp } from '../../support/app.js';
import { lotFixture, materialFixture } from '../../support/fixtures/materials.js';
import { pricedFixture, saleFixture } from '../../support/fixtures/sales.js';
import { personFixture, studioFixture } from '../../support/fixtures.js';

const { db, owner, tutor } = await testApp();
const { standard } = await studioFixture(owner);
const ines = await personFixture(owner);

const takeBack = (id: string, body: object = {}, key?: string) =>
  owner.post(`/api/sales/${id}/takings-back`, { reason: 'Too much', ...body }, key);
const pay = (chargeId: string, amountMinor: number) =>
  owner.post('/api/payments', { personId: ines.id, method: 'card', for: [{ chargeId, amountMinor }] });
const balanceOf = async (code: string): Promise<number> => {
  const { items } = (await owner.get('/api/account-balances')).json();
  return items.find((a: { code: string }) => a.code === code).balanceMinor;
};
const booksOf = async () => ({
  vat: await balanceOf('vat'),
  income: await balanceOf('material-income'),
  cash: await balanceOf('cash'),
});

describe('taking back what was sold', () => {
  test('puts it into the very lots at the very cost, the last drawn first, and owes less', async () => {
    const clay = await pricedFixture(owner, standard.id);
    const may = await lotFixture(owner, clay.id, { receivedOn: '2026-03-05', quantity: 1000, costMinor: 333 });
    const before = await booksOf();
    const sold = await saleFixture(owner, ines.id, clay.id, { quantity: 13_000 });
    expect(sold).toMatchObject({ grossMinor: 5460, onHand: 500 });
    const answer = await takeBack(sold.id, { quantity: 700 });
    expect(answer.statusCode).toBe(201);
    const back: Sale = answer.json();
    expect(back).toMatchObject({
      ...{ keptQuantity: 12_300, grossMinor: 5460, creditedMinor: 294, owedMinor: 5166 },
      takingsBack: [{ quantity: 700, creditedMinor: 294, reason: 'Too much', creditNoteDocumentId: null }],
    });
    const moves = await db.stockMove.findMany({ where: { materialId: clay.id }, orderBy: { id: 'asc' } });
    expect(moves.slice(2).map(({ kind, lotId, quantity, costMinor }) => [kind, lotId, quantity, costMinor])).toEqual([
      ['sold', clay.lotId, -12_500, -1850],
      ['sold', may.id, -500, -167],
      ['takenBack', may.id, 500, 167],
      ['takenBack', clay.lotId, 200, 30],
    ]);
    expect((await owner.get(`/api/materials/${clay.id}`)).json().onHand).toBe(1200);
    await takeBack(sold.id);
    expect((await owner.get(`/api/materials/${clay.id}/costs`)).json()).toMatchObject({ worthMinor: 1850 + 333 });
    expect((await owner.get(`/api/sales/${sold.id}`)).json()).toMatchObject({ keptQuantity: 0, owedMinor: 0 });
    expect(await booksOf()).toEqual(before);
  });

  test('pays back what was paid beyond what is kept, by the method that is told, with a credit note', async () => {
    const clay = await pricedFixture(owner, standard.id);
    const { id, chargeId } = await saleFixture(owner, ines.id, clay.id);
    await pay(chargeId, 600);
    const before = await booksOf();
    // 1.5 kg come back: 2.40 are not paid yet and no longer asked for, 3.90 go back
    const dumb = await takeBack(id, { quantity: 1500 });
    expect([dumb.statusCode, dumb.json().errors[0].pointer]).toEqual([422, '#/method']);
    expect(await db.takingBack.count({ where: { saleId: id } })).toBe(0);
    const back: Sale = (await takeBack(id, { quantity: 1500, method: 'cash' })).json();
    expect(back).toMatchObject({ keptQuantity: 500, creditedMinor: 630, paidMinor: 210, owedMinor: 0 });
    const [taking] = back.takingsBack;
    const noteId = taking?.creditNoteDocumentId ?? '';
    expect((await owner.get(`/api/documents/${noteId}/pdf`)).headers['content-type']).toBe('application/pdf');
    const { content } = await db.document.findUniqueOrThrow({ where: { id: noteId } });
    expect(content).toMatchObject({ totalMinor: 390, reason: 'Too much' });
    expect(await booksOf()).toEqual({
      cash: before.cash - 390,
      vat: before.vat + 105, // of 6.30
      income: before.income + 525,
    });
    expect(await db.notice.count({ where: { personId: ines.id, occasion: 'refund' } })).toBe(1);
  });

  test('of a penny that rounding already gave away credits nothing', async () => {
    const clay = await pricedFixture(owner, standard.id);
    const { id } = await saleFixture(owner, ines.id, clay.id, { quantity: 1000, priceMinor: 1 });
    expect((await takeBack(id, { quantity: 400 })).json()).toMatchObject({ keptQuantity: 600, owedMinor: 1 });
    expect((await takeBack(id, { quantity: 200 })).json()).toMatchObject({ keptQuantity: 400, owedMinor: 0 });
    expect((await takeBack(id)).json()).toMatchObject({ keptQuantity: 0, creditedMinor: 1 });
  });

  test('gives what was found back as found', async () => {
    const clay = await materialFixture(owner);
    const sold = await saleFixture(owner, ines.id, clay.id, { priceMinor: 420, taxRateId: standard.id });
    await takeBack(sold.id, { quantity: 500 });
    expect((await owner.get(`/api/materials/${clay.id}`)).json()).toMatchObject({ onHand: 500, asksForCount: true });
    expect((await owner.get(`/api/materials/${clay.id}/costs`)).json()).toMatchObject({ worthMinor: 0 });
  });

  test('of more than is still out is refused, also where many bring it at once', async () => {
    const clay = await pricedFixture(owner, standard.id);
    const { id } = await saleFixture(owner, ines.id, clay.id);
    const answer = await takeBack(id, { quantity: 2001 });
    expect([answer.statusCode, answer.json()]).toMatchObject([
      409,
      { type: '/problems/more-than-sold', keptQuantity: 2000 },
    ]);
    for (const body of [{ quantity: 0 }, { quantity: -1 }, { quantity: 1.5 }, { reason: '' }, { method: 'voucher' }])
      expect((await takeBack(id, body)).statusCode).toBe(422);
    expect((await takeBack(randomUUID())).statusCode).toBe(404);
    expect((await tutor.post(`/api/sales/${id}/takings-back`, { reason: 'Too much' })).statusCode).toBe(403);
    const key = randomUUID();
    await Promise.all([1, 2, 3].map(() => takeBack(id, { quantity: 200 }, key)));
    const many = await Promise.all(Array.from({ length: 8 }, () => takeBack(id, { quantity: 400 })));
    expect(many.map(({ statusCode }) => statusCode).sort()).toEqual([201, 201, 201, 201, 409, 409, 409, 409]);
    expect((await owner.get(`/api/materials/${clay.id}`)).json().onHand).toBe(12_300);
    await takeBack(id);
    expect((await takeBack(id)).json().detail).toBe('All of it has already come back. Look the sale up again.');
  });
});

describe('the value of the shelf', () => {
  const step = fc.oneof(
    fc.record({ receive: fc.integer({ min: 10, max: 40 }), costMinor: fc.nat(97) }),
    fc.record({ draw: fc.integer({ min: 1, max: 9 }) }),
    fc.record({ count: fc.nat(60) }),
    fc.record({ sell: fc.integer({ min: 1, max: 9 }) }),
    fc.record({ back: fc.integer({ min: 1, max: 5 }), of: fc.nat(9) }),
  );

  test('is the sum of the remaining lots and all that came less what went, after any sequence of moves', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(step, { minLength: 4, maxLength: 14 }), async (steps) => {
        const clay = await materialFixture(owner);
        const sold: string[] = [];
        await lotFixture(owner, clay.id, { quantity: 31, costMinor: 100 });
        for (const next of steps) {
          if ('receive' in next)
            await lotFixture(owner, clay.id, { quantity: next.receive, costMinor: next.costMinor });
          if ('draw' in next) await owner.post(`/api/materials/${clay.id}/draws`, { quantity: next.draw });
          if ('count' in next)
            await owner.post(`/api/materials/${clay.id}/counts`, { counted: next.count, explanation: 'Counted' });
          if ('sell' in next) {
            const given = { quantity: next.sell, priceMinor: 1000, taxRateId: standard.id };
            sold.push((await saleFixture(owner, ines.id, clay.id, given)).id);
          }
          if ('back' in next && sold.length > 0)
            await takeBack(sold[next.of % sold.length] as string, { quantity: next.back });
        }
        const moves = await db.stockMove.findMany({ where: { materialId: clay.id } });
        const sum = (what: 'quantity' | 'costMinor') => moves.reduce((all, move) => all + move[what], 0);
        const { worthMinor, lots } = (await owner.get(`/api/materials/${clay.id}/costs`)).json();
        const left = lots as { left: number; quantity: number; leftWorthMinor: number; costMinor: number }[];
        expect(worthMinor).toBe(sum('costMinor'));
        expect(left.reduce((all, lot) => all + lot.leftWorthMinor, 0)).toBe(sum('costMinor'));
        expect(left.reduce((all, lot) => all + lot.left, 0)).toBe(sum('quantity'));
        for (const lot of left) if (lot.left === lot.quantity) expect(lot.leftWorthMinor).toBe(lot.costMinor);
        // brought back wholly, each sale leaves nothing of itself
        for (const id of sold) await takeBack(id);
        const own = await db.saleMove.findMany({ where: { saleId: { in: sold } }, include: { move: true } });
        expect(own.reduce((all, { move }) => all + move.costMinor, 0)).toBe(0);
        expect(own.reduce((all, { move }) => all + move.quantity, 0)).toBe(0);
        // and what is left, drawn to the last gram, leaves the shelf worth nothing
        const { onHand } = (await owner.get(`/api/materials/${clay.id}`)).json();
        if (onHand > 0) await owner.post(`/api/materials/${clay.id}/draws`, { quantity: onHand });
        expect((await owner.get(`/api/materials/${clay.id}/costs`)).json()).toMatchObject({ worthMinor: 0, lots: [] });
      }),
      { numRuns: 25 },
    );
  });
});
