import { expect, test } from 'vitest';
import { testApp } from '../../support/app.js';
import { pricedFixture, saleFixture } from '../../support/fixtures/sales.js';
import { till } from '../../support/fixtures/vouchers.js';
import { personFixture, studioFixture } from '../../support/fixtures.js';
import { faultsAfter } from '../../support/past-triggers.js';

const house = await testApp();
const { owner } = house;
const { standard } = await studioFixture(owner);
const { ask, pay } = till(house, standard.id);

/** Six million pounds for six kilograms: within the limit of one sale, and two of them beyond that of one amount. */
const DEAR = { quantity: 6000, priceMinor: 100_000_000 };
const SIX_MILLION = 600_000_000;

test('large sales are summed up wherever sums are shown, and paid one by one', async () => {
  const clay = await pricedFixture(owner, standard.id);
  const { id: personId } = await personFixture(owner);
  await saleFixture(owner, personId, clay.id, DEAR);
  await saleFixture(owner, personId, clay.id, DEAR);

  const debts = { dueMinor: 2 * SIX_MILLION, owedMinor: 2 * SIX_MILLION };
  const today = await owner.get('/api/today');
  expect(today.json().debts).toMatchObject({ ...debts, top: [debts] });
  const [debtor] = (await owner.get('/api/debtors')).json().items;
  expect(debtor).toMatchObject({ ...debts, firingDueMinor: 0 });
  const reminder = await owner.post(`/api/people/${personId}/reminders`);
  expect([reminder.statusCode, reminder.json().dueMinor]).toEqual([201, 2 * SIX_MILLION]);

  const [first = '', second = ''] = debtor.charges.map(({ chargeId }: { chargeId: string }) => chargeId);
  const parts = [first, second].map((chargeId) => ({ chargeId, amountMinor: SIX_MILLION }));
  const both = await owner.post('/api/payments', { personId, method: 'card', for: parts });
  expect(both.statusCode).toBe(422);
  expect(both.json().detail).toBe('That comes to more than £10,000,000, the most that is booked at once. Split it.');
  for (const chargeId of [first, second]) expect((await pay(personId, chargeId, SIX_MILLION)).statusCode).toBe(201);
  expect((await owner.get('/api/receipts')).json().items).toHaveLength(2);
});

test('nobody is asked at once for more than one amount may be, neither by a service nor in the database', async () => {
  const { id: personId } = await personFixture(owner);
  await expect(ask(personId, 1_000_000_001)).rejects.toThrow('Split it.');
  const id = await ask(personId, 1_000_000_000);
  const larger = faultsAfter(house.url, `UPDATE charge SET gross_minor = 1000000001 WHERE id = '${id}'`);
  await expect(larger).rejects.toThrow('charge_within_one_amount');
});
