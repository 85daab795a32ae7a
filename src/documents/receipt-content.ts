import { z } from 'zod';
import { simplifiedInvoiceAllowed } from '../trade/money/tax.js';
import { isVoucherCode } from '../trade/text/voucher-code.js';
import { PaperDay, PaperLine, PaperMinor, Party, PaymentMethod, paperHead } from './parts.js';
import { type Complain, checkLines, vatLineFields } from './vat-lines.js';

/** What is paid now of one thing, with one tax. */
const ReceiptLine = z
  .strictObject({
    ...vatLineFields,
    taxPoint: PaperDay.nullable().meta({
      description: 'The day whose VAT return it counts in; null where no VAT falls due.',
    }),
    priceNetMinor: PaperMinor.meta({
      description: 'What the whole quantity costs without VAT: more than netMinor where a part is paid.',
    }),
  })
  .readonly();

/** One thing that is paid for, in one go or in parts. */
const Supply = z
  .strictObject({
    description: PaperLine,
    priceMinor: PaperMinor,
    paidBeforeMinor: PaperMinor,
    paidNowMinor: PaperMinor,
    stillToPayMinor: PaperMinor,
    payBy: PaperDay.nullable().meta({ description: 'When the first of what is still to pay is due.' }),
    stillDue: z
      .array(z.strictObject({ dueOn: PaperDay, amountMinor: PaperMinor.min(1) }).readonly())
      .max(50)
      .readonly()
      .optional()
      .meta({ description: 'What is still to pay, day by day, where that is more than one payment.' }),
  })
  .readonly();

/** The voucher that paid, and what it still holds. */
const PaidWithVoucher = z
  .strictObject({
    code: z.string().refine(isVoucherCode, 'This is not the code of a voucher.'),
    leftMinor: PaperMinor,
    taxed: z.enum(['when-sold', 'when-used']),
  })
  .readonly();

/** What it was paid for before, and the credit note that says so: the booking was moved, and no money came in. */
const CarriedFrom = z.strictObject({ what: PaperLine, creditNote: z.string().regex(/^C-\d{6,}$/) }).readonly();

const shared = {
  ...paperHead,
  number: z.string().regex(/^R-\d{6,}$/, 'Receipts are numbered R-000001 and so on.'),
  issuedOn: PaperDay,
  receivedOn: PaperDay.meta({ description: 'The day the money came in.' }),
  payer: Party,
  method: PaymentMethod,
  voucher: PaidWithVoucher.optional(),
  carriedFrom: CarriedFrom.optional(),
  lines: z.array(ReceiptLine).min(1, 'A receipt needs at least one line.').max(100).readonly(),
  totalMinor: z.int().min(1),
  supplies: z.array(Supply).max(100).readonly(),
};

const PlainReceipt = z.strictObject({ kind: z.literal('receipt'), ...shared });
const SimplifiedReceipt = z.strictObject({
  kind: z.literal('vat-simplified'),
  ...shared,
  simplifiedLimitMinor: PaperMinor.meta({
    description: 'The most a supply may cost, with VAT, for the simplified form.',
  }),
});
const FullReceipt = z.strictObject({ kind: z.literal('vat-full'), ...shared });

type Unchecked = z.output<typeof PlainReceipt> | z.output<typeof SimplifiedReceipt> | z.output<typeof FullReceipt>;

/**
 * All that stands on a receipt, frozen. Its kind says which law it answers to: 'receipt' asks for no VAT and never calls
 * itself an invoice; 'vat-full' holds what VAT Regulations 1995 (SI 1995/2518) reg 14(1) lists; 'vat-simplified' what
 * reg 16A lists, up to its limit. Which of them a studio must give is its choice, with its accountant.
 */
export const ReceiptContent = z
  .discriminatedUnion('kind', [PlainReceipt, SimplifiedReceipt, FullReceipt])
  .superRefine((content, context) => {
    const complain: Complain = (path, message) => context.addIssue({ code: 'custom', path, message });
    checkLines(content.lines, content.totalMinor, complain);
    checkTaxPoints(content, complain);
    checkSupplies(content, complain);
    if ((content.method === 'voucher') !== (content.voucher !== undefined))
      complain(['voucher'], 'Name the voucher where one paid, and only there.');
    if ((content.method === 'carried') !== (content.carriedFrom !== undefined))
      complain(['carriedFrom'], 'Say what it was paid for before where it is carried over, and only there.');
    checkKind(content, complain);
  })
  .readonly();
export type ReceiptContent = z.output<typeof ReceiptContent>;

function checkTaxPoints({ lines, receivedOn }: Unchecked, complain: Complain): void {
  for (const [i, { vatPercent, taxPoint, netMinor, priceNetMinor }] of lines.entries()) {
    if ((vatPercent === null) !== (taxPoint === null))
      complain(['lines', i, 'taxPoint'], 'Give a tax point for lines with VAT, and for no others.');
    if (taxPoint !== null && taxPoint > receivedOn)
      complain(['lines', i, 'taxPoint'], 'What is paid has its tax point on the day of the payment at the latest.');
    if (netMinor > priceNetMinor) complain(['lines', i, 'priceNetMinor'], 'More is paid than it costs.');
  }
}

function checkSupplies({ supplies, totalMinor }: Unchecked, complain: Complain): void {
  for (const [i, s] of supplies.entries()) {
    if (s.paidBeforeMinor + s.paidNowMinor + s.stillToPayMinor !== s.priceMinor)
      complain(['supplies', i, 'stillToPayMinor'], 'Paid before, paid now and still to pay must add up to the price.');
    if (s.stillDue && s.stillDue.reduce((sum, { amountMinor }) => sum + amountMinor, 0) !== s.stillToPayMinor)
      complain(['supplies', i, 'stillDue'], 'What is due day by day must add up to what is still to pay.');
  }
  if (supplies.reduce((sum, s) => sum + s.paidNowMinor, 0) > totalMinor)
    complain(['supplies'], 'More is paid now than was received.');
}

function checkKind(content: Unchecked, complain: Complain): void {
  const taxed = content.lines.filter((line) => line.vatPercent !== null);
  if (content.kind === 'receipt') {
    if (taxed.length > 0) complain(['kind'], 'A receipt with VAT is a VAT invoice: choose vat-simplified or vat-full.');
    return;
  }
  if (!content.studio.vatNumber) complain(['studio', 'vatNumber'], 'A VAT invoice needs the VAT number of the studio.');
  if (taxed.length === 0) complain(['kind'], 'There is no VAT here: choose receipt.');
  if (content.kind === 'vat-full') {
    if (content.payer.addressLines.length === 0)
      complain(['payer', 'addressLines'], 'A full VAT invoice needs the address of the customer.');
    return;
  }
  // HMRC VATREC16042: no exempt supplies on a simplified invoice
  if (taxed.length < content.lines.length) complain(['lines'], 'Put lines without VAT on a receipt of their own.');
  const notListed = content.totalMinor - content.supplies.reduce((sum, s) => sum + s.paidNowMinor, 0);
  const prices = [notListed, ...content.supplies.map((s) => s.priceMinor)];
  if (!prices.every((price) => simplifiedInvoiceAllowed(price, content.simplifiedLimitMinor)))
    complain(['kind'], 'The supply is above the limit of a simplified VAT invoice: choose vat-full.');
}
