import { beforeAll, describe, expect, test } from 'vitest';
import { sqlState } from '../../../src/database/sqlstate.js';
import { inTransaction } from '../../../src/database/transaction.js';
import { newId } from '../../../src/http/ids.js';
import { createCharge } from '../../../src/studio/accounts/charges/charges.js';
import { testApp } from '../../support/app.js';
import { pricedFixture, saleFixture } from '../../support/fixtures/sales.js';
import { personFixture, studioFixture } from '../../support/fixtures.js';
import { faultsAfter } from '../../support/past-triggers.js';

const { db, url, owner, clock } = await testApp();
const { standard } = await studioFixture(owner);
const ines = await personFixture(owner);
const ids = { sale: '', charge: '', lot: '', sold: '', back: '', takingBack: '', credit: '', material: '' };
beforeAll(async () => {
  const clay = await pricedFixture(owner, standard.id);
  const { id, chargeId } = await saleFixture(owner, ines.id, clay.id);
  await owner.post(`/api/sales/${id}/takings-back`, { quantity: 500, reason: 'Too much' });
  const moves = await db.saleMove.findMany({ where: { saleId: id }, orderBy: { moveId: 'asc' } });
  const credit = await db.credit.findFirstOrThrow({ where: { chargeId } });
  Object.assign(ids, { sale: id, charge: chargeId, lot: clay.lotId, material: clay.id, credit: credit.id });
  Object.assign(ids, { sold: moves[0]?.moveId, back: moves[1]?.moveId, takingBack: moves[1]?.takingBackId });
});

const MOVES = 'what was sold left by one sale, and what is not kept came back into its lots';
const MONEY = 'a sale is charged, less what came back, at its price';

describe('the rules see', () => {
  test('a move of no sale', async () => {
    const found = await faultsAfter(url, `DELETE FROM sale_move WHERE move_id = '${ids.sold}'`);
    expect(found.split('\n')).toEqual([
      `${MOVES}: stock move ${ids.sold} is sold by no sale`,
      `${MOVES}: sale ${ids.sale} is of 2000 and took 0`,
      `${MOVES}: sale ${ids.sale} brought more into lot ${ids.lot} than it took: 500 worth 74`,
    ]);
  });

  test('a sale and a taking-back that are not what they moved', async () => {
    const sale = await faultsAfter(url, `UPDATE sale SET quantity = 2001 WHERE id = '${ids.sale}'`);
    expect(sale).toBe(`${MOVES}: sale ${ids.sale} is of 2001 and took 2000`);
    const back = await faultsAfter(url, `UPDATE taking_back SET quantity = 501 WHERE id = '${ids.takingBack}'`);
    expect(back).toBe(`${MOVES}: taking-back ${ids.takingBack} is of 501 and brought 500`);
  });

  test('a move of another kind', async () => {
    const found = await faultsAfter(url, `UPDATE stock_move SET kind = 'drawn' WHERE id = '${ids.sold}'`);
    expect(found).toBe(`${MOVES}: sale ${ids.sale}: stock move ${ids.sold} is drawn, of material ${ids.material}`);
  });

  test('a charge that asks for another sum, or is of another kind, or of no sale', async () => {
    const price = await faultsAfter(url, `UPDATE sale SET price_minor = 440 WHERE id = '${ids.sale}'`);
    expect(price).toBe(`${MONEY}: sale ${ids.sale}: 630 is asked and 1500 was kept for 660`);
    const kind = await faultsAfter(url, `UPDATE charge SET kind = 'firing' WHERE id = '${ids.charge}'`);
    expect(kind).toBe(`${MONEY}: sale ${ids.sale}: charge ${ids.charge} is of kind firing`);
    const other = await personFixture(owner);
    const stray = await inTransaction(db, (tx) => createCharge(tx, clock.now(), chargeOf(other.id, 'firing')));
    const found = await faultsAfter(url, `UPDATE charge SET kind = 'material' WHERE id = '${stray}'`);
    expect(found).toBe(`${MONEY}: charge ${stray} of material belongs to no sale`);
  });
});

const chargeOf = (personId: string, kind: 'firing' | 'material') => ({
  ...{ personId, kind, description: 'Clay', grossMinor: 500, taxRateId: standard.id, inAdvance: false },
  instalments: [{ dueOn: '2026-03-10', amountMinor: 500 }],
});
const stateOf = async (work: Promise<unknown>) =>
  sqlState(await work.then(() => Promise.reject(new Error('nothing was refused'))).catch((error) => error));

describe('the database itself refuses', () => {
  test('a charge of material and a sold move that belong to no sale', async () => {
    const stray = inTransaction(db, (tx) => createCharge(tx, clock.now(), chargeOf(ines.id, 'material')));
    expect(await stateOf(stray)).toBe('WB006');
    const move = { id: newId(), materialId: ids.material, lotId: ids.lot, at: new Date(), note: '' };
    const sold = db.stockMove.create({ data: { ...move, kind: 'sold', quantity: -1, costMinor: 0 } });
    expect(await stateOf(sold)).toBe('WB006');
    const up = db.stockMove.create({ data: { ...move, kind: 'sold', quantity: 1, costMinor: 0 } });
    expect(await stateOf(up)).toBe('23514');
  });

  test('a sale that took nothing, a taking-back that brought nothing, and one that credits nothing', async () => {
    const charged = inTransaction(db, async (tx) => {
      const chargeId = await createCharge(tx, clock.now(), chargeOf(ines.id, 'material'));
      const said = { quantity: 1000, priceMinor: 500, note: '', at: clock.now() };
      await tx.sale.create({ data: { id: newId(), chargeId, materialId: ids.material, ...said } });
    });
    expect(await stateOf(charged)).toBe('WB006');
    const back = { saleId: ids.sale, quantity: 100, reason: 'x', at: clock.now() };
    expect(await stateOf(db.takingBack.create({ data: { id: newId(), ...back } }))).toBe('WB006');
    const free = inTransaction(db, async (tx) => {
      const { id } = await tx.takingBack.create({ data: { id: newId(), ...back } });
      const move = { materialId: ids.material, lotId: ids.lot, at: clock.now(), note: '' };
      const moved = { id: newId(), kind: 'takenBack' as const, quantity: 100, costMinor: 0 };
      await tx.stockMove.create({ data: { ...move, ...moved } });
      await tx.saleMove.create({ data: { moveId: moved.id, saleId: ids.sale, takingBackId: id } });
    });
    expect(await stateOf(free)).toBe('WB004');
    expect(await stateOf(db.sale.update({ where: { id: ids.sale }, data: { quantity: 1 } }))).toBe('WB006');
  });
});
