import { expect, test } from 'vitest';
import { testApp } from '../../../support/app.js';
import { till } from '../../../support/fixtures/vouchers.js';
import { personFixture, studioFixture } from '../../../support/fixtures.js';
import { faultsAfter } from '../../../support/past-triggers.js';

const studio = await testApp();
const { owner } = studio;
const { standard } = await studioFixture(owner);
const { ask, sell, pay } = till(studio, standard.id);
const ines = await personFixture(owner);
const voucher = await sell(ines.id, 6000, { taxRateId: standard.id });
const chargeId = await ask(ines.id, 6000);
await pay(ines.id, chargeId, 2000, voucher.code);

const ENTRY = `(SELECT id FROM journal_entry LIMIT 1)`;
const move = (kind: string, minor: number, entry: string) =>
  `INSERT INTO voucher_move SELECT gen_random_uuid(), id, '${kind}', ${minor}, now(), ${entry} FROM voucher`;
const SUPPLIED = `(SELECT entry_id FROM charge LIMIT 1)`;

test.each<[string, string, RegExp]>([
  ['below zero', move('used', -4001, SUPPLIED), /voucher \w+ of 6000 holds -1/],
  ['above its sum', move('returned', 2001, SUPPLIED), /voucher \w+ of 6000 holds 6001/],
  ['a move that no payment made', move('used', -100, SUPPLIED), /used -100 without a payment/],
  [
    'a move that the books don’t know',
    move('lapsed', -1200, SUPPLIED),
    /vouchers-outstanding owes 3333 and the vouchers hold 2333/,
  ],
  [
    'a liability that no voucher holds',
    `INSERT INTO posting VALUES (gen_random_uuid(), ${ENTRY}, 'vouchers-outstanding', NULL, -5)`,
    /vouchers-outstanding owes 3338 and the vouchers hold 3333/,
  ],
  [
    'a payment that left its voucher alone',
    `DELETE FROM voucher_move WHERE kind = 'used'`,
    /payment \S+ by voucher: 2000/,
  ],
  ['a sale that made no voucher', `DELETE FROM voucher_move WHERE kind = 'sold'`, /payment \S+: 6000 is for nothing/],
])('%s is found', async (_, sql, fault) => {
  expect(await faultsAfter(studio.url, sql)).toMatch(fault);
});

test('all else is well', async () => {
  expect(await faultsAfter(studio.url, 'SELECT 1')).toBe('');
});
