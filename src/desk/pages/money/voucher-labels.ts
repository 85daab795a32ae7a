import { voucherCodeInWords } from '../../../trade/text/voucher-code.js';
import type { Schemas } from '../../api/client';
import type { Formatter } from '../../format/formatter';

export type Voucher = Schemas['Voucher'];
export type TaxRate = Schemas['TaxRate'];

/** "A7C 4FHJ KMN", as the paper shows it. */
export const codeOf = ({ code }: Pick<Voucher, 'code'>): string => voucherCodeInWords(code);

/** What can be done with it, and until when. */
export function stateOf({ state, validUntil }: Voucher, { fullDate }: Formatter): string {
  switch (state) {
    case 'open':
      return validUntil === null ? 'Valid, no expiry date' : `Valid until ${fullDate(validUntil)}`;
    case 'expired':
      return validUntil === null ? 'Expired' : `Expired on ${fullDate(validUntil)}`;
    case 'used':
      return 'Used up';
    case 'lapsed':
      return 'Lapsed';
  }
}

export const toneOf = ({ state }: Voucher) =>
  state === 'open' ? ('celadon' as const) : state === 'expired' ? ('amber' as const) : ('quiet' as const);
