import { z } from 'zod';
import { Id, LocalDate, Minor, SignedMinor } from '../../http/types.js';

export const ChargeKind = z.enum(['course', 'firing']);
export type ChargeKind = z.output<typeof ChargeKind>;
export const PaymentMethod = z.enum(['cash', 'card', 'transfer']);
export type PaymentMethod = z.output<typeof PaymentMethod>;

export const NewPayment = z
  .strictObject({
    personId: Id,
    method: PaymentMethod,
    for: z
      .array(z.strictObject({ chargeId: Id, amountMinor: Minor.min(1) }))
      .min(1)
      .max(50)
      .meta({ description: 'What the money is for; the amounts add up to the payment.' }),
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
  })
  .meta({ id: 'Payment' });
export type Payment = z.output<typeof Payment>;

const OpenCharge = z
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
  })
  .meta({ id: 'OpenCharge' });

export const Debtor = z
  .object({
    personId: Id,
    name: z.string(),
    owedMinor: Minor,
    dueMinor: Minor,
    firingOwedMinor: Minor.meta({ description: 'Of what is owed, the firing fees.' }),
    charges: z.array(OpenCharge),
  })
  .meta({ id: 'Debtor' });
export type Debtor = z.output<typeof Debtor>;

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
