import { parseMoney } from '../../trade/text/parse-input.js';

/** An amount as it stands in a field while somebody types, in whole minor units; null while it is none, or less than `leastMinor`. */
export function amountTyped(text: string, currency: string, leastMinor = 1): number | null {
  try {
    return parseMoney(text, currency, leastMinor);
  } catch {
    return null;
  }
}
