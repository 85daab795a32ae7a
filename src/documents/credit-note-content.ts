import { z } from 'zod';
import { isVoucherCode } from '../trade/text/voucher-code.js';
import { PaperDay, PaperLine, Party, PaymentMethod, paperHead } from './parts.js';
import { type Complain, checkLines, VatLine } from './vat-lines.js';

/**
 * What goes back in one way: in money, on a voucher (`isNew`: made for it, since the one that paid is no longer valid), or not at all,
 * as it is carried over and pays for something else.
 */
const SettledPart = z
  .strictObject({
    amountMinor: z.int().min(1),
    method: PaymentMethod,
    voucher: z
      .strictObject({
        code: z.string().refine(isVoucherCode, 'This is not the code of a voucher.'),
        isNew: z.boolean(),
      })
      .readonly()
      .nullable(),
    carriedTo: PaperLine.optional().meta({ description: 'What it pays for instead.' }),
  })
  .refine(({ method, carriedTo }) => (method === 'carried') === (carriedTo !== undefined), {
    path: ['carriedTo'],
    error: 'Say what it pays for where it is carried over, and only there.',
  })
  .refine(({ method, voucher }) => (method === 'voucher') === (voucher !== null), {
    path: ['voucher'],
    error: 'Name the voucher where the refund goes on one, and only there.',
  })
  .readonly();

/** What becomes of the money. */
const Settlement = z.discriminatedUnion('how', [
  z.strictObject({ how: z.literal('paid-back'), method: PaymentMethod, on: PaperDay }).readonly(),
  z
    .strictObject({ how: z.literal('in-parts'), on: PaperDay, parts: z.array(SettledPart).min(1).max(50).readonly() })
    .readonly(),
  z.strictObject({ how: z.literal('to-pay-back') }).readonly(),
  z.strictObject({ how: z.literal('less-owed') }).readonly(),
  // the payment was entered by mistake: no money moves, unless onto the voucher that paid
  z
    .strictObject({
      how: z.literal('reversed'),
      voucher: z.string().refine(isVoucherCode, 'This is not the code of a voucher.').nullable(),
    })
    .readonly(),
]);

const sumOf = (parts: readonly { amountMinor: number }[]) => parts.reduce((sum, part) => sum + part.amountMinor, 0);

/**
 * All that stands on a credit note, frozen; amounts are what is taken back, above zero. Its kind is that of the receipt it
 * corrects. With VAT it holds what VAT Regulations 1995 (SI 1995/2518) reg 15C asks: both numbers and dates, both parties,
 * what it was for, and the amount without VAT, the rate and the VAT that is credited.
 */
export const CreditNoteContent = z
  .strictObject({
    ...paperHead,
    kind: z.enum(['receipt', 'vat-simplified', 'vat-full']),
    number: z.string().regex(/^C-\d{6,}$/, 'Credit notes are numbered C-000001 and so on.'),
    issuedOn: PaperDay,
    corrects: z
      .array(z.strictObject({ number: z.string().regex(/^R-\d{6,}$/), issuedOn: PaperDay }).readonly())
      .min(1)
      .max(50)
      .readonly(),
    customer: Party,
    reason: PaperLine,
    settlement: Settlement,
    lines: z.array(VatLine).min(1, 'A credit note needs at least one line.').max(100).readonly(),
    totalMinor: z.int().min(1),
  })
  .superRefine((content, context) => {
    const complain: Complain = (path, message) => context.addIssue({ code: 'custom', path, message });
    checkLines(content.lines, content.totalMinor, complain);
    if (content.settlement.how === 'in-parts' && sumOf(content.settlement.parts) !== content.totalMinor)
      complain(['settlement', 'parts'], 'The parts must add up to the total.');
    if (content.corrects.some((receipt) => content.issuedOn < receipt.issuedOn))
      complain(['issuedOn'], 'A credit note can’t be older than the receipt that it corrects.');
    const taxed = content.lines.some((line) => line.vatPercent !== null);
    if (content.kind === 'receipt' && taxed) complain(['kind'], 'The receipt had no VAT, so none is refunded.');
    if (content.kind !== 'receipt' && !content.studio.vatNumber)
      complain(['studio', 'vatNumber'], 'A credit note with VAT needs the VAT number of the studio.');
    if (content.kind === 'vat-full' && content.customer.addressLines.length === 0)
      complain(['customer', 'addressLines'], 'To correct a full VAT invoice it needs the address of the customer.');
  })
  .readonly();
export type CreditNoteContent = z.output<typeof CreditNoteContent>;
