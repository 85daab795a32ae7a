import type { Transaction } from '../../database/transaction.js';
import { fromDecimal } from '../../database/values.js';
import { Problem } from '../../problems.js';
import type { TaxTreatment } from '../../trade/tax.js';
import { chargeStates } from './queries.js';

/** A charge with how it stands and how it is taxed. Lock it first where you are about to change it. */
export async function chargeWithState(tx: Transaction, chargeId: string) {
  const row = await tx.charge.findUnique({ where: { id: chargeId }, include: { supply: true } });
  const state = (await chargeStates(tx, [chargeId])).get(chargeId);
  if (!row || !state) throw new Problem('not-found', 'No charge has this id. Look it up under /api/charges.');
  return { row, state, tax: taxOf(row) };
}

/** How a charge is taxed, as it was frozen when it was made. */
function taxOf(row: { taxKind: TaxTreatment['kind']; taxPercent: { toFixed(): string } | null }): TaxTreatment {
  return row.taxKind === 'standard' && row.taxPercent
    ? { kind: 'standard', percent: fromDecimal(row.taxPercent) }
    : { kind: row.taxKind === 'standard' ? 'outside' : row.taxKind };
}
