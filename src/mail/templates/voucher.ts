import { z } from 'zod';
import { type Correspondents, type Letter, letter } from './letter.js';

/** What is frozen of a voucher for its letter, in words; the paper goes with it. */
export const VoucherData = z.object({
  code: z.string(),
  amount: z.string(),
  forWhom: z.string().nullable(),
  /** null where it has no end */
  validUntil: z.string().nullable(),
  /** does it stand for one whose day had passed, so that money could go back on it? */
  insteadOfExpired: z.boolean(),
});

export function voucherLetter(data: z.output<typeof VoucherData>, correspondents: Correspondents): Letter {
  const { code, amount, forWhom, validUntil } = data;
  return letter(correspondents, `Voucher ${code} from ${correspondents.studio.name}`, [
    data.insteadOfExpired
      ? `${amount} goes back to you on a new voucher, since the one you paid with is no longer valid.`
      : `Here is the voucher that you bought: ${amount}${forWhom === null ? '' : ` for ${forWhom}`}.`,
    `Its code is ${code}. It is valid ${validUntil === null ? 'without end' : `until ${validUntil}`}.`,
    'The voucher is attached, to be printed or passed on. Whoever names the code can use it: keep it as you would keep money.',
  ]);
}
