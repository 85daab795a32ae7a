import { expect, test } from 'vitest';
import { byKind, type Charge, type Debtor, together } from '../../src/desk/actions/payment/charge-totals';
import { usualPayment } from '../../src/desk/actions/payment/payment';

const CHARGE: Charge = {
  ...{ chargeId: 'a', personId: 'p', kind: 'course', description: 'Lidded jars', dueOn: '2026-04-01', hold: null },
  ...{ grossMinor: 12_000, creditedMinor: 0, paidMinor: 3000, owedMinor: 9000, dueMinor: 0, heldMinor: 0 },
};
const HELD: Charge = {
  ...CHARGE,
  ...{ chargeId: 'b', paidMinor: 0, owedMinor: 0, heldMinor: 12_000 },
  hold: { until: '2026-03-12T09:00:00Z', depositMinor: 3000 },
};
const debtor = (charges: Charge[]): Debtor => ({
  ...{ personId: 'p', name: 'Ada', hasEmail: true, remindedOn: null, charges },
  ...{ owedMinor: charges.reduce((sum, { owedMinor }) => sum + owedMinor, 0), dueMinor: 0 },
  ...{ heldMinor: charges.reduce((sum, { heldMinor }) => sum + heldMinor, 0) },
  ...{ firingOwedMinor: 0, firingDueMinor: 0 },
});
const proposed = (charges: Charge[]) =>
  usualPayment(debtor(charges), 'GBP').map(({ taken, amount }) => [taken, amount]);

test('a payment for a held place is proposed by its deposit, and only where nothing is owed', () => {
  expect(proposed([HELD])).toEqual([[true, '30.00']]);
  expect(proposed([CHARGE, HELD])).toEqual([
    [true, '90.00'],
    [false, '30.00'],
  ]);
});

test('what is held stands in no sum of what is owed', () => {
  const all = [debtor([CHARGE, HELD]), debtor([HELD])];
  expect(together(all)).toEqual({ owedMinor: 9000, dueMinor: 0, firingOwedMinor: 0, heldMinor: 24_000 });
  expect(byKind(all)).toMatchObject([{ people: 1, owedMinor: 9000, charges: [{ chargeId: 'a' }] }]);
});
