import type { Transaction } from '../../database/transaction.js';
import { dateInWords } from '../../documents/words.js';
import { Problem } from '../../problems.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { groupBy } from '../../trade/maths/group-by.js';
import { formatMoneyInText } from '../../trade/money/money.js';
import { grossFromNet } from '../../trade/money/tax.js';
import { createCharge } from '../accounts/charges/charges.js';
import { includeFiring } from '../memberships/use/firing.js';
import { getStudio, getTaxRate, taxTreatmentOf } from '../settings/service.js';
import type { FiringBill } from './contract.js';
import { getFiringCost } from './cost.js';
import { assertFiringState, lockFiring } from './firing.js';

/**
 * Charges each maker for the pieces whose firing they pay: their shares together are the net price, to which a registered studio
 * adds its VAT. A piece that this firing broke costs its maker nothing, and a sum of nothing makes no charge. Due at once.
 *
 * @returns one bill per maker, none where nobody pays
 */
export async function billFiring(tx: Transaction, now: Date, id: string): Promise<FiringBill[]> {
  const row = await lockFiring(tx, id);
  const failed = 'A firing that failed is the studio’s cost.';
  assertFiringState(row, ['settled'], row.state === 'failed' ? failed : 'Work out its fees first, on the page Kilns.');
  const cost = await getFiringCost(tx, id);
  if (cost.charges.length > 0)
    throw new Problem('wrong-state', `Firing ${row.number} has already been billed. See its fees on the page Kilns.`);

  const studio = await getStudio(tx);
  const tax = taxTreatmentOf(studio, await getTaxRate(tx, studio.firingTaxRateId));
  const today = localDay(now, studio.timeZone);
  const firedOn = dateInWords(localDay(row.startedAt ?? now, studio.timeZone), studio.locale);
  const bills: FiringBill[] = [];
  const billed: Parameters<typeof includeFiring>[3][number][] = [];
  const money = (minor: number) => formatMoneyInText(minor, studio.currency, studio.locale);
  const untaxed = tax.kind === 'standard' ? 'before VAT ' : '';
  const parts = (netMinor: number, labourMinor: number) =>
    labourMinor === 0
      ? ''
      : ` (${untaxed}${money(netMinor - labourMinor)} for the kiln, ${money(labourMinor)} for our work)`;
  const paying = cost.shares.filter((share) => share.borneBy === 'maker');
  for (const [personId, shares] of groupBy(paying, (share) => share.personId)) {
    const sum = (of: 'amountMinor' | 'labourMinor') => shares.reduce((total, share) => total + share[of], 0);
    const [netMinor, labourMinor] = [sum('amountMinor'), sum('labourMinor')];
    if (netMinor === 0) continue;
    const grossMinor = grossFromNet(netMinor, tax);
    const count = shares.length === 1 ? '1 piece' : `${shares.length} pieces`;
    const chargeId = await createCharge(tx, now, {
      ...{ personId, kind: 'firing', grossMinor, taxRateId: studio.firingTaxRateId, inAdvance: false },
      quantity: shares.length,
      description: `Share of ${row.schedule.kind} firing ${row.number}, ${firedOn}: ${count}${parts(netMinor, labourMinor)}`,
      instalments: [{ dueOn: today, amountMinor: grossMinor }],
    });
    await tx.firingCharge.create({ data: { chargeId, firingId: id, personId, billedId: personId } });
    const personName = shares[0]?.personName ?? '';
    bills.push({
      personId,
      personName,
      chargeId,
      pieces: shares.length,
      netMinor,
      labourMinor,
      grossMinor,
      includedMinor: 0,
    });
    const billedMm3 = shares.reduce((total, { weightMm3 }) => total + BigInt(weightMm3), 0n);
    billed.push({ personId, chargeId, billedMm3, grossMinor });
  }
  const day = localDay(row.startedAt ?? now, studio.timeZone);
  const included = await includeFiring(tx, now, day, billed, studio.locale);
  return bills.map((bill) => ({ ...bill, includedMinor: included.get(bill.chargeId) ?? 0 }));
}
