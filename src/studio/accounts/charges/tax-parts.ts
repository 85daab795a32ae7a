import type { Transaction } from '../../../database/transaction.js';
import { Problem } from '../../../problems.js';
import { sameTax } from '../../../trade/money/tax.js';
import type { Studio } from '../../settings/contract.js';
import { getTaxRate, taxTreatmentOf } from '../../settings/service.js';
import type { ChargePart } from './charge-state.js';

/** What of a price bears another tax than the rest, gross. */
export type NewPart = { label: string; taxRateId: string; grossMinor: number };

type Parted = { grossMinor: number; taxRateId: string; parts?: readonly NewPart[]; restLabel?: string | null };

/** What of a price is in none of its named parts, where nobody has named that too. */
const UNNAMED_REST = 'everything else';

/**
 * A price by its taxes, as the studio is registered today: first what bears the charge's own, which may be nothing, then one part for
 * each other tax, all of them named. Parts that bear one tax are one part, so that their VAT is rounded once; where the studio isn't registered, all are.
 *
 * @throws Problem invalid-request where the parts are more than the price
 */
export async function freezeTaxParts(
  tx: Transaction,
  studio: Studio,
  { grossMinor, taxRateId, parts = [], restLabel = null }: Parted,
): Promise<[ChargePart, ...ChargePart[]]> {
  const taxed = async (id: string) => {
    const rate = await getTaxRate(tx, id);
    return { taxName: rate.name, tax: taxTreatmentOf(studio, rate) };
  };
  const restMinor = parts.reduce((left, part) => left - part.grossMinor, grossMinor);
  if (restMinor < 0)
    throw new Problem('invalid-request', 'The parts are more than the price. Lower them, or ask more.');
  const own: ChargePart = { label: null, grossMinor: restMinor, ...(await taxed(taxRateId)) };
  const others: ChargePart[] = [];
  for (const { label, taxRateId: otherId, grossMinor: partMinor } of parts) {
    if (partMinor === 0) continue;
    const part = { label, grossMinor: partMinor, ...(await taxed(otherId)) };
    const same = [own, ...others].find(({ tax }) => sameTax(tax, part.tax));
    if (!same) others.push(part);
    else {
      same.grossMinor += partMinor;
      if (same.label !== null) same.label = `${same.label}, ${label}`;
    }
  }
  if (others.length > 0) own.label = restLabel ?? UNNAMED_REST;
  return [own, ...others];
}

/** How a part of a charge is named on its papers: "Two mugs, 2 places: clay". */
export const partInWords = (description: string, { label }: Pick<ChargePart, 'label'>): string =>
  label === null ? description : `${description}: ${label}`;
