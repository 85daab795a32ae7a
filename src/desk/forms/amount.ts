import { parseMoney } from '../../trade/text/parse-input.js';

/** An amount above zero as it stands in a field while somebody types, in whole minor units; null while it is none. */
export function amountTyped(text: string, currency: string): number | null {
  try {
    return parseMoney(text, currency, 1);
  } catch {
    return null;
  }
}
