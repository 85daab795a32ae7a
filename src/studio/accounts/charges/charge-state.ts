import type { Prisma } from '../../../database/generated/client.js';
import type { Transaction } from '../../../database/transaction.js';
import { fromDate, fromDecimal } from '../../../database/values.js';
import { Problem, see } from '../../../problems.js';
import type { TaxedPart, TaxTreatment } from '../../../trade/money/tax.js';
import { getChargeStates } from '../queries.js';

/** What of a charge is taxed alike; `label` names it where the charge has several such parts. */
export type ChargePart = TaxedPart & { label: string | null; taxName: string };

/** A charge with how it stands and how its parts are taxed. Lock it first where you are about to change it. */
export async function getChargeWithState(tx: Transaction, chargeId: string) {
  const row = await tx.charge.findUnique({
    where: { id: chargeId },
    include: { supply: true, instalments: { orderBy: { dueOn: 'asc' } }, ...CHARGE_INCLUDE },
  });
  const state = (await getChargeStates(tx, [chargeId])).get(chargeId);
  if (!row || !state)
    throw new Problem(
      'not-found',
      'No charge has this id. Look for it on the page Money.',
      see('money', '/api/debtors'),
    );
  return { row, state, parts: taxPartsOf(row), instalments: row.instalments.map(showInstalment) };
}

export const CHARGE_INCLUDE = { parts: { orderBy: { ordinal: 'asc' } } } as const satisfies Prisma.ChargeInclude;

/** All of a charge by its taxes, as frozen when it was made: first what bears its own, then the other parts. */
export function taxPartsOf({
  parts,
  ...own
}: Prisma.ChargeGetPayload<{ include: typeof CHARGE_INCLUDE }>): ChargePart[] {
  const restMinor = parts.reduce((left, { grossMinor }) => left - grossMinor, own.grossMinor);
  return [{ ...own, grossMinor: restMinor, label: own.restLabel }, ...parts].map((part) => ({
    ...{ label: part.label, taxName: part.taxName, grossMinor: part.grossMinor },
    tax: taxOf(part),
  }));
}

/** The day on which what a charge is for was supplied; null while it is still to come. */
export function suppliedOn(row: { inAdvance: boolean; chargedOn: Date; supply: { suppliedOn: Date } | null }) {
  if (!row.inAdvance) return fromDate(row.chargedOn);
  return row.supply && fromDate(row.supply.suppliedOn);
}

export type Instalment = { dueOn: string; amountMinor: number };

export const showInstalment = ({ dueOn, amountMinor }: { dueOn: Date; amountMinor: number }): Instalment => ({
  ...{ dueOn: fromDate(dueOn), amountMinor },
});

/** What is left of instalments once so much of them is settled, the earlier ones first; none where nothing is left. */
export function stillDue(instalments: readonly Instalment[], settledMinor: number): Instalment[] {
  let leftMinor = settledMinor;
  return instalments.flatMap(({ dueOn, amountMinor }) => {
    const settled = Math.min(leftMinor, amountMinor);
    leftMinor -= settled;
    return settled === amountMinor ? [] : [{ dueOn, amountMinor: amountMinor - settled }];
  });
}

export type FrozenTax = { taxKind: TaxTreatment['kind']; taxPercent: { toFixed(): string } | null };

/** How a charge or a voucher is taxed, as it was frozen when it was made. */
export function taxOf(row: FrozenTax): TaxTreatment {
  return row.taxKind === 'standard' && row.taxPercent
    ? { kind: 'standard', percent: fromDecimal(row.taxPercent) }
    : { kind: row.taxKind === 'standard' ? 'outside' : row.taxKind };
}
