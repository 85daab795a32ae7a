import { z } from 'zod';
import { type Correspondents, indented, type Letter, letterText, sentenceOf } from './letter.js';

/** What is frozen of a payment that was entered by mistake; its credit note goes with the letter. */
export const PaymentReversedData = z.object({
  ...{ creditNoteNumber: z.string(), receiptNumber: z.string(), amount: z.string(), reason: z.string() },
  /** the voucher that has its sum again, as it is printed; null where none paid */
  voucher: z.string().nullable(),
  unpaid: z.array(z.string()).min(1),
});

export function paymentReversedLetter(data: z.output<typeof PaymentReversedData>, to: Correspondents): Letter {
  const { creditNoteNumber, receiptNumber, amount, reason, voucher, unpaid } = data;
  return letterText(to, `Credit note ${creditNoteNumber} from ${to.studio.name}`, [
    `We entered a payment of ${amount} from you by mistake (receipt ${receiptNumber}), and have taken it back. The reason: ${sentenceOf(reason)}`,
    voucher === null ? null : `The sum is on your voucher ${voucher} again.`,
    `This is unpaid again:\n${indented(unpaid)}`,
    `Credit note ${creditNoteNumber} is attached. Please keep it with the receipt. We are sorry for the trouble; if you have paid this, reply to this email.`,
  ]);
}
