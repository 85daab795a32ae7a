import fc from 'fast-check';
import { expect, test } from 'vitest';
import { inTransaction } from '../../../../src/database/transaction.js';
import { cancelCharge, createCharge, recordSupply } from '../../../../src/studio/accounts/charges/charges.js';
import { takePayment } from '../../../../src/studio/accounts/payments/payments.js';
import { getChargeStates, getRemainingOn } from '../../../../src/studio/accounts/queries.js';
import { sellVoucher } from '../../../../src/studio/accounts/vouchers/vouchers.js';
import { vatInside } from '../../../../src/trade/money/tax.js';
import { findBrokenRules } from '../../../invariants.js';
import { testApp } from '../../../support/app.js';
import { made, personFixture, studioFixture } from '../../../support/fixtures.js';

const { db, owner, clock } = await testApp();
await studioFixture(owner);
// a rate at which hardly any part comes out even, so that every rounding shows
const rate = await made<{ id: string }>(owner, '/api/tax-rates', { name: 'Odd', kind: 'standard', percent: '17.5' });
const tax = { kind: 'standard', percent: '17.5' } as const;
const ines = await personFixture(owner);

const amountMinor = fc.integer({ min: 1, max: 9999 });
const which = fc.nat(20);
const share = fc.integer({ min: 1, max: 100 });
const act = fc.oneof(
  fc.record({ act: fc.constant('sell' as const), amountMinor, single: fc.boolean() }),
  fc.record({ act: fc.constant('ask' as const), amountMinor, inAdvance: fc.boolean() }),
  fc.record({ act: fc.constant('pay' as const), which, share, voucher: fc.option(which) }),
  fc.record({ act: fc.constant('pay' as const), which, share, voucher: which }),
  fc.record({ act: fc.constant('callOff' as const), which, share }),
  fc.record({ act: fc.constant('supply' as const), which }),
);
type Act = typeof act extends fc.Arbitrary<infer A> ? A : never;

const now = () => clock.now();
const part = (of: number, percent: number) => Math.ceil((of * percent) / 100);
const at = <T>(list: readonly T[], i: number): T | undefined => list[i % Math.max(1, list.length)];

/** The VAT that is due by now: of each charge on what was paid or supplied, and of what is left on vouchers taxed when sold. */
async function vatDue(): Promise<number> {
  const charges = await db.charge.findMany({ include: { supply: true } });
  const states = await getChargeStates(
    db,
    charges.map(({ id }) => id),
  );
  const ofCharges = charges.map(({ id, inAdvance, supply: supplied, grossMinor }) => {
    const { paidMinor = 0, creditedMinor = 0 } = states.get(id) ?? {};
    return vatInside(inAdvance && supplied === null ? paidMinor : grossMinor - creditedMinor, tax);
  });
  const single = await db.voucher.findMany({ where: { taxKind: 'standard' } });
  const left = await getRemainingOn(
    db,
    single.map(({ id }) => id),
  );
  const sum = (list: number[]) => list.reduce((a, b) => a + b, 0);
  return sum(ofCharges) + sum([...left.values()].map((minor) => vatInside(minor, tax)));
}

async function perform(wanted: Act): Promise<void> {
  const charges = await db.charge.findMany({ orderBy: { id: 'asc' } });
  const vouchers = await db.voucher.findMany({ orderBy: { id: 'asc' } });
  await inTransaction(db, async (tx) => {
    if (wanted.act === 'sell') {
      const taxRateId = wanted.single ? rate.id : null;
      await sellVoucher(tx, now(), { buyerId: ines.id, amountMinor: wanted.amountMinor, method: 'card', taxRateId });
      return;
    }
    if (wanted.act === 'ask') {
      const { inAdvance, amountMinor: grossMinor } = wanted;
      const instalments = [{ dueOn: '2026-03-10', amountMinor: grossMinor }];
      const about = { personId: ines.id, kind: 'course' as const, description: 'Bowls', taxRateId: rate.id };
      await createCharge(tx, now(), { ...about, grossMinor, inAdvance, instalments });
      return;
    }
    const chargeId = at(charges, wanted.which)?.id;
    if (chargeId === undefined) return;
    const { owedMinor = 0, paidMinor = 0 } = (await getChargeStates(tx, [chargeId])).get(chargeId) ?? {};
    if (wanted.act === 'supply') return recordSupply(tx, now(), chargeId);
    if (wanted.act === 'callOff') {
      const how = { refundMinor: part(paidMinor, wanted.share), method: 'card' as const, reason: 'Ill' };
      return cancelCharge(tx, now(), chargeId, how);
    }
    const voucher = wanted.voucher === null ? undefined : at(vouchers, wanted.voucher);
    const most = voucher
      ? Math.min(owedMinor, (await getRemainingOn(tx, [voucher.id])).get(voucher.id) ?? 0)
      : owedMinor;
    const pays = part(most, wanted.share);
    if (pays === 0) return;
    const how = voucher ? { method: 'voucher' as const, voucherCode: voucher.code } : { method: 'card' as const };
    await takePayment(tx, now(), { personId: ines.id, ...how, for: [{ chargeId, amountMinor: pays }] });
  });
}

// Selling, part uses and refunds in any order: the books owe what is left on vouchers, and VAT is due once for each supply.
test('whatever happens to vouchers, the account holds what is left and VAT is that of the whole', async () => {
  const life = fc.array(act, { minLength: 6, maxLength: 16 });
  const start: Act[] = [
    { act: 'sell', amountMinor: 7777, single: true },
    { act: 'sell', amountMinor: 5555, single: false },
    { act: 'ask', amountMinor: 9999, inAdvance: true },
  ];
  await fc.assert(
    fc.asyncProperty(life, async (acts) => {
      for (const wanted of [...start, ...acts]) await perform(wanted);
      expect(await findBrokenRules(db)).toEqual([]);
      const { _sum } = await db.posting.aggregate({ where: { accountCode: 'vat' }, _sum: { amountMinor: true } });
      expect(-(_sum.amountMinor ?? 0)).toBe(await vatDue());
    }),
    { numRuns: 12 },
  );
  expect(await db.voucherMove.groupBy({ by: ['kind'], orderBy: { kind: 'asc' } })).toMatchObject([
    { kind: 'sold' },
    { kind: 'used' },
    { kind: 'returned' },
  ]);
});
