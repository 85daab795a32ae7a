import { z } from 'zod';
import { type Correspondents, type Letter, letter } from './letter.js';

/** What is frozen of a receipt or a refund for its letter; the paper goes with it. */
export const ReceiptData = z.object({ receiptNumber: z.string(), amount: z.string() });
export const RefundData = z.object({ creditNoteNumber: z.string(), amount: z.string(), reason: z.string() });

export function receiptLetter(data: z.output<typeof ReceiptData>, correspondents: Correspondents): Letter {
  return letter(correspondents, `Receipt ${data.receiptNumber} from ${correspondents.studio.name}`, [
    `We have received ${data.amount} from you. Thank you.`,
    `Receipt ${data.receiptNumber} is attached. Please keep it.`,
  ]);
}

export function refundLetter(data: z.output<typeof RefundData>, correspondents: Correspondents): Letter {
  return letter(correspondents, `Credit note ${data.creditNoteNumber} from ${correspondents.studio.name}`, [
    `${data.amount} goes back to you. The reason: ${data.reason}`,
    `Credit note ${data.creditNoteNumber} is attached. Please keep it with the receipt that it corrects.`,
  ]);
}
