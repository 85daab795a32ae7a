import { z } from 'zod';
import { isVoucherCode } from '../trade/text/voucher-code.js';
import { PaperDay, PaperLine, paperHead } from './parts.js';

/** All that stands on a voucher, frozen. Who bought it stands on the receipt: a voucher is a present. */
export const VoucherContent = z
  .strictObject({
    ...paperHead,
    code: z.string().refine(isVoucherCode, 'This is not the code of a voucher.'),
    issuedOn: PaperDay,
    amountMinor: z.int().min(1),
    forWhom: PaperLine.nullable(),
    goodFor: PaperLine.nullable().meta({
      description: 'What it is meant for, in the words of the studio; null for all.',
    }),
    validUntil: PaperDay.nullable(),
    taxed: z.enum(['when-sold', 'when-used']),
  })
  .superRefine(({ issuedOn, validUntil }, context) => {
    if (validUntil !== null && validUntil < issuedOn)
      context.addIssue({ code: 'custom', path: ['validUntil'], message: 'A voucher is valid on the day of its sale.' });
  })
  .readonly();
export type VoucherContent = z.output<typeof VoucherContent>;
