import { z } from 'zod';
import { type Correspondents, indented, type Letter, letterText, sentenceOf } from './letter.js';

/** What is frozen of a receipt or a refund for its letter; the paper goes with it. `paidFor` and `what` came later. */
export const ReceiptData = z.object({
  receiptNumber: z.string(),
  amount: z.string(),
  paidFor: z.array(z.string()).default([]),
});
export const RefundData = z.object({
  creditNoteNumber: z.string(),
  /** null where nothing goes back */
  amount: z.string().nullable(),
  reason: z.string(),
  what: z.string().nullable().default(null),
  /** how the sum was worked out, and what may follow; null where there is nothing to say */
  explanation: z.string().nullable().default(null),
  /** what is not refunded but pays for something else */
  carried: z.object({ amount: z.string(), to: z.string() }).nullable().default(null),
  /** what stays with the studio for them, on a voucher that has a letter of its own */
  credit: z.string().nullable().default(null),
});

export function receiptLetter(
  { receiptNumber, amount, paidFor }: z.output<typeof ReceiptData>,
  correspondents: Correspondents,
): Letter {
  const [only, ...more] = paidFor;
  const thanks = `Thank you for your payment of ${amount}`;
  return letterText(correspondents, `Receipt ${receiptNumber} from ${correspondents.studio.name}`, [
    only === undefined
      ? `${thanks}.`
      : more.length === 0
        ? `${thanks} for ${only}.`
        : `${thanks}, which is for:\n${indented(paidFor)}`,
    `Receipt ${receiptNumber} is attached. Please keep it.`,
  ]);
}

export function refundLetter(data: z.output<typeof RefundData>, correspondents: Correspondents): Letter {
  const { creditNoteNumber, amount, reason, what, explanation, carried, credit } = data;
  const of = what === null ? '' : ` for ${what}`;
  return letterText(correspondents, `Credit note ${creditNoteNumber} from ${correspondents.studio.name}`, [
    carried && `${carried.amount} that you paid${of} now pays for ${carried.to}.`,
    credit &&
      `${credit} that you paid${of} stays with us as your credit, on a voucher that you get with another email.`,
    amount === null ? null : `We have refunded ${amount} to you${of}. The reason: ${sentenceOf(reason)}`,
    explanation,
    `Credit note ${creditNoteNumber} is attached. Please keep it with the receipt that it corrects.`,
  ]);
}
