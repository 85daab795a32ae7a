import { z } from 'zod';
import { type Correspondents, type Letter, letterText } from './letter.js';

/** What is frozen of a voucher for its letter, in words; the paper goes with it. */
export const VoucherData = z.object({
  code: z.string(),
  amount: z.string(),
  forWhom: z.string().nullable(),
  /** null where it has no end */
  validUntil: z.string().nullable(),
  /** does it stand for one whose day had passed, so that money could go back on it? */
  insteadOfExpired: z.boolean(),
  /** is it what was paid too much, and is kept for its payer? */
  isCredit: z.boolean().default(false),
  /** was it sold before, and is valid for longer now? */
  isExtended: z.boolean().default(false),
});

export function voucherLetter(data: z.output<typeof VoucherData>, correspondents: Correspondents): Letter {
  const { code, amount, forWhom, validUntil } = data;
  return letterText(correspondents, `Voucher ${code} from ${correspondents.studio.name}`, [
    data.isExtended
      ? `Your voucher of ${amount}${forWhom === null ? '' : ` for ${forWhom}`} can be used for longer now.`
      : data.insteadOfExpired
        ? `${amount} has been refunded to a new voucher, because the one you paid with has expired.`
        : data.isCredit
          ? `We have kept ${amount} for you as credit. It is on this voucher, and pays for any course, firing or material.`
          : `Here is the voucher you bought: ${amount}${forWhom === null ? '' : ` for ${forWhom}`}.`,
    `Its code is ${code}. ${validUntil === null ? 'It has no expiry date' : `It is valid until ${validUntil}`}.`,
    'The voucher is attached for you to print or pass on. Anyone with the code can use it, so keep it as safe as cash.',
  ]);
}
