import { z } from 'zod';
import { PrintedLine } from '../../documents/printable.js';
import { Id, LocalDate, Minor, SignedMinor, SumMinor, UpTo } from '../../http/types.js';
import { normaliseVoucherCode } from '../../trade/text/voucher-code.js';

export const ChargeKind = z.enum(['course', 'firing', 'material', 'membership']);
export type ChargeKind = z.output<typeof ChargeKind>;
/** How money itself comes and goes. */
export const MoneyMethod = z.enum(['cash', 'card', 'transfer']);
export type MoneyMethod = z.output<typeof MoneyMethod>;
export const PaymentMethod = z.enum([...MoneyMethod.options, 'voucher']);
export type PaymentMethod = z.output<typeof PaymentMethod>;
/** As payments are listed: what was paid for one booking may be carried over to another. */
export const ListedMethod = z.enum([...PaymentMethod.options, 'carried']);
export type ListedMethod = z.output<typeof ListedMethod>;
/** How money goes back to somebody: as money, or kept as credit on a voucher. */
export const RefundMethod = z.enum([...MoneyMethod.options, 'credit']);
export type RefundMethod = z.output<typeof RefundMethod>;

/** As it was typed or read aloud; its check sign is judged where it is used, with a sentence of what to do. */
export const VoucherCode = UpTo(40, z.string().trim()).min(1).transform(normaliseVoucherCode);

export const NewPayment = z
  .strictObject({
    personId: Id,
    method: PaymentMethod,
    voucherCode: VoucherCode.optional().meta({ description: 'Of the voucher that pays, where the method is voucher.' }),
    for: z
      .array(z.strictObject({ chargeId: Id, amountMinor: Minor.min(1) }))
      .min(1)
      .max(50)
      .meta({ description: 'What the money is for; the amounts add up to the payment.' }),
  })
  .refine(({ method, voucherCode }) => (method === 'voucher') === (voucherCode !== undefined), {
    path: ['voucherCode'],
    error: 'is needed where the method is voucher, and nowhere else',
  })
  .meta({ id: 'NewPayment' });
export type NewPayment = z.output<typeof NewPayment>;

export const Payment = z
  .object({
    id: Id,
    personId: Id,
    amountMinor: SignedMinor,
    method: PaymentMethod,
    receiptNumber: z.string(),
    documentId: Id,
    voucherLeftMinor: Minor.nullable().meta({ description: 'What is left on the voucher, where one paid.' }),
  })
  .meta({ id: 'Payment' });
export type Payment = z.output<typeof Payment>;

export const NewReversal = z
  .strictObject({
    reason: PrintedLine(200).meta({ description: 'Why the payment is wrong; it is printed on the credit note.' }),
  })
  .meta({ id: 'NewPaymentReversal' });
export type NewReversal = z.output<typeof NewReversal>;

export const Reversal = z.object({
  paymentId: Id,
  reversalId: Id.meta({ description: 'The payment below zero that takes it back.' }),
  amountMinor: Minor,
  creditNoteNumber: z.string(),
  documentId: Id.meta({ description: 'Of the credit note, which takes the receipt back.' }),
  voucherLeftMinor: Minor.nullable().meta({ description: 'What is on the voucher again, where one had paid.' }),
});
export type Reversal = z.output<typeof Reversal>;

export const OpenCharge = z
  .object({
    chargeId: Id,
    personId: Id,
    kind: ChargeKind,
    description: z.string(),
    grossMinor: Minor,
    creditedMinor: Minor,
    paidMinor: Minor,
    owedMinor: Minor,
    dueMinor: Minor.meta({ description: 'Of what is owed, what was due by the day asked about.' }),
    dueOn: LocalDate.nullable(),
    heldMinor: Minor.meta({
      description: 'What is asked for a place that is held: it is owed once something is paid, or its course begins.',
    }),
    hold: z.object({ until: z.iso.datetime(), depositMinor: Minor }).nullable().meta({
      description: 'Until when its place is held unpaid, and the deposit that confirms it; null of all else.',
    }),
  })
  .meta({ id: 'OpenCharge' });

export const Debtor = z
  .object({
    personId: Id,
    name: z.string(),
    owedMinor: SumMinor.meta({ description: 'Without what is asked for held places.' }),
    dueMinor: SumMinor,
    heldMinor: SumMinor.meta({ description: 'What is asked for held places; it is not owed.' }),
    firingOwedMinor: SumMinor.meta({ description: 'Of what is owed, the firing fees.' }),
    firingDueMinor: SumMinor.meta({ description: 'Of what is due, the firing fees.' }),
    hasEmail: z.boolean().meta({ description: 'Whether a reminder can be sent, or has to be printed or told.' }),
    remindedOn: LocalDate.nullable(),
    charges: z.array(OpenCharge),
  })
  .meta({ id: 'Debtor' });
export type Debtor = z.output<typeof Debtor>;

export const Reminder = z
  .object({
    noticeId: Id,
    dueMinor: SumMinor,
    chargeIds: z.array(Id).meta({ description: 'What it reminds of.' }),
    hasEmail: z.boolean().meta({ description: 'False where no address is known: it reaches nobody until it is told.' }),
  })
  .meta({ id: 'Reminder' });
export type Reminder = z.output<typeof Reminder>;

export const Receipt = z
  .object({
    number: z.string(),
    paymentId: Id,
    documentId: Id,
    personId: Id,
    personName: z.string(),
    receivedOn: LocalDate,
    amountMinor: SignedMinor,
  })
  .meta({ id: 'Receipt' });
export type Receipt = z.output<typeof Receipt>;

export const Balances = z
  .object({ items: z.array(z.object({ code: z.string(), name: z.string(), balanceMinor: z.int() })) })
  .meta({ id: 'Balances' });
