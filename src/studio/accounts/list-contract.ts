import { z } from 'zod';
import { Days, ListQuery } from '../../http/paging.js';
import { Id, LocalDate, SignedMinor } from '../../http/types.js';
import { DocumentInfo } from '../notices/contract.js';
import { ChargeKind, ListedMethod, OpenCharge } from './contract.js';

const people = ListQuery.shape.q.meta({ description: 'Words of the person’s name, email address or phone number.' });

export const PaperQuery = ListQuery.extend({
  q: ListQuery.shape.q.meta({
    description: 'The number of a receipt or credit note, the code of a voucher, or words of the person’s name.',
  }),
  ...Days,
  personId: Id.optional(),
  kind: DocumentInfo.shape.kind.optional(),
}).meta({ description: 'From and to are of the day on which it was issued.' });
export type PaperQuery = z.output<typeof PaperQuery>;

export const Paper = z
  .object({
    documentId: Id,
    kind: DocumentInfo.shape.kind,
    fileName: z.string(),
    issuedOn: LocalDate,
    number: z.string().nullable().meta({ description: 'As it is printed; a collection notice has none.' }),
    personId: Id.nullable().meta({ description: 'Whom it is for; null where that is a supplier.' }),
    name: z.string().meta({ description: 'Whom it is for.' }),
    amountMinor: SignedMinor.nullable().meta({ description: 'Null where it is of no sum.' }),
  })
  .meta({ id: 'Paper' });
export type Paper = z.output<typeof Paper>;

export const PaymentQuery = ListQuery.extend({
  ...{ q: people, ...Days, personId: Id.optional(), chargeId: Id.optional() },
  method: ListedMethod.optional(),
  direction: z.enum(['in', 'out']).optional().meta({ description: 'What came in, or what was paid back.' }),
});
export type PaymentQuery = z.output<typeof PaymentQuery>;

export const ListedPayment = z
  .object({
    ...{ id: Id, personId: Id, personName: z.string() },
    amountMinor: SignedMinor.meta({ description: 'Below zero where it was paid back.' }),
    method: ListedMethod.meta({
      description: 'Carried: from one booking to another as it was moved; no money came or went.',
    }),
    receivedOn: LocalDate,
    ...{ receiptNumber: z.string().nullable(), documentId: Id.nullable() },
    voucherCode: z.string().nullable().meta({ description: 'Of the voucher that paid, was paid for, or was paid on.' }),
    reversal: z
      .object({ reason: z.string(), on: LocalDate, creditNoteNumber: z.string(), documentId: Id })
      .nullable()
      .meta({ description: 'That it was entered by mistake and taken back, and by which credit note.' }),
    reversesId: Id.nullable().meta({ description: 'The payment that this one takes back.' }),
    for: z.array(z.object({ chargeId: Id, description: z.string(), amountMinor: SignedMinor })),
  })
  .meta({ id: 'ListedPayment' });
export type ListedPayment = z.output<typeof ListedPayment>;

export const ChargeQuery = ListQuery.extend({
  q: ListQuery.shape.q.meta({ description: 'Words of what it is for, or of the person’s name.' }),
  ...Days,
  personId: Id.optional(),
  kind: ChargeKind.optional(),
  state: z.enum(['open', 'settled']).optional().meta({ description: 'Open: something is left to pay.' }),
});
export type ChargeQuery = z.output<typeof ChargeQuery>;

export const ListedCharge = OpenCharge.extend({
  personName: z.string(),
  chargedOn: LocalDate,
  ...{ bookingId: Id.nullable(), courseId: Id.nullable(), firingId: Id.nullable(), saleId: Id.nullable() },
}).meta({ id: 'ListedCharge' });
export type ListedCharge = z.output<typeof ListedCharge>;
