import type { Transaction } from '../../database/transaction.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { comparePrices, comparePrivatePrices, type PriceComparison } from '../../trade/pricing/compare-prices.js';
import { formatDay } from '../../trade/text/format.js';
import { getStudio } from '../settings/service.js';
import type { PriceSince } from './contract.js';
import type { QuoteInputs } from './quote-versions.js';
import { findLastQuote, type SavedQuote } from './quotes.js';

/** What moved since a price was saved; or in a sentence, why that is not known. Neither where none was saved. */
export type ChangesSince = { since: PriceSince; sinceUnknown: string | null };

/** What a delivery, a meter or a setting has made of a course's fair price since it was saved, thing by thing. */
export async function getChangesSince(tx: Transaction, courseId: string, today: QuoteInputs): Promise<ChangesSince> {
  const saved = await findLastQuote(tx, courseId);
  if (!saved) return { since: null, sinceUnknown: null };
  const { inputs } = saved;
  const unknown = async (why: string) => ({ since: null, sinceUnknown: await inWords(tx, saved, why) });
  if (inputs && inputs.currency !== today.currency)
    return unknown(`is in ${inputs.currency}, and the studio now works in ${today.currency}.`);
  const compared = inputs && compare(inputs, today);
  if (!compared) return unknown('can’t be read, so nothing says what has moved since.');
  const { firstMinor: fairPriceMinor, rows } = compared;
  const savedAt = saved.computedAt.toISOString();
  return { since: { quoteId: saved.id, savedAt, fairPriceMinor, rows }, sinceUnknown: null };
}

async function inWords(tx: Transaction, { computedAt }: SavedQuote, why: string): Promise<string> {
  const { timeZone, locale } = await getStudio(tx);
  const day = formatDay(localDay(computedAt, timeZone), locale);
  return `The price saved on ${day} ${why} Save today’s price to compare with it from now on.`;
}

/** Null where what was saved makes no price. Today's does: it has been worked out. */
function compare(before: QuoteInputs, today: QuoteInputs): PriceComparison | null {
  try {
    if ('groupOf' in before && 'groupOf' in today) return comparePrivatePrices(before, today);
    if (!('groupOf' in before) && !('groupOf' in today)) return comparePrices(before, today);
    return null; // saved as another kind of price
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}
