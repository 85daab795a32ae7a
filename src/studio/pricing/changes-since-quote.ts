import type { Transaction } from '../../database/transaction.js';
import { comparePrices, comparePrivatePrices } from '../../trade/pricing/compare-prices.js';
import type { PriceInputs } from '../../trade/pricing/course-price.js';
import type { PrivateInputs } from '../../trade/pricing/private-price.js';
import type { PriceSince } from './contract.js';

type Inputs = PriceInputs | PrivateInputs;
export type Saved = { id: string; computedAt: Date; inputs: Inputs };

/** The price of a course that was saved last. */
export async function getLastQuote(tx: Transaction, courseId: string): Promise<Saved | null> {
  const row = await tx.priceQuote.findFirst({ where: { courseId }, orderBy: [{ computedAt: 'desc' }, { id: 'desc' }] });
  return row && { id: row.id, computedAt: row.computedAt, inputs: row.inputs as unknown as Inputs };
}

/**
 * What a delivery, a meter or a setting has made of the fair price since it was saved, thing by thing.
 *
 * @returns null where nothing was saved, or in a currency that the studio no longer counts in
 */
export function changesSince(saved: Saved | null, inputs: Inputs): PriceSince {
  if (!saved || saved.inputs.currency !== inputs.currency) return null;
  const { firstMinor, rows } = compared(saved.inputs, inputs);
  return { quoteId: saved.id, savedAt: saved.computedAt.toISOString(), fairPriceMinor: firstMinor, rows };
}

function compared(before: Inputs, today: Inputs) {
  if ('groupOf' in before && 'groupOf' in today) return comparePrivatePrices(before, today);
  if (!('groupOf' in before) && !('groupOf' in today)) return comparePrices(before, today);
  throw new Error('A course was saved as another kind of price. A plan keeps its kind while courses use it.');
}
