import { z } from 'zod';
import { PrintedLine } from '../../../documents/printable.js';
import { ListQuery } from '../../../http/paging.js';
import { Id, LocalDate, Minor } from '../../../http/types.js';
import { MoneyMethod, VoucherCode } from '../contract.js';

export const NewVoucher = z
  .strictObject({
    buyerId: Id,
    amountMinor: Minor.min(1),
    method: MoneyMethod,
    taxRateId: Id.nullable().meta({
      description:
        'A rate where everything that the voucher can pay for is taxed at it: VAT is then due now (single-purpose). Null where that is open: VAT is due when it is used (multi-purpose). Fixed for good; which of them holds is a question for an accountant.',
    }),
    forWhom: PrintedLine(80).optional().meta({ description: 'Printed on the voucher.' }),
    goodFor: PrintedLine(120).optional().meta({
      description: 'What it is meant for, for example "one place on a taster evening"; left out, any course or firing.',
    }),
    validUntil: LocalDate.optional().meta({ description: 'Its last day; left out, it has no expiry date.' }),
  })
  .meta({ id: 'NewVoucher' });
export type NewVoucher = z.output<typeof NewVoucher>;

export const Voucher = z
  .object({
    id: Id,
    code: z.string(),
    buyerId: Id,
    buyerName: z.string(),
    forWhom: z.string().nullable(),
    goodFor: z.string().nullable(),
    amountMinor: Minor,
    leftMinor: Minor,
    state: z
      .enum(['open', 'used', 'expired', 'lapsed'])
      .meta({ description: 'Expired: something is left and its day has passed. Lapsed: the rest was given up.' }),
    taxed: z.enum(['when-sold', 'when-used']),
    taxName: z.string().nullable(),
    issuedOn: LocalDate,
    validUntil: LocalDate.nullable(),
    documentId: Id,
  })
  .meta({ id: 'Voucher' });
export type Voucher = z.output<typeof Voucher>;

export const SoldVoucher = Voucher.extend({
  paymentId: Id,
  receiptNumber: z.string(),
  receiptDocumentId: Id,
}).meta({ id: 'SoldVoucher' });
export type SoldVoucher = z.output<typeof SoldVoucher>;

export const NewLapse = z
  .strictObject({
    taxRateId: Id.nullable().optional().meta({
      description:
        'Of a voucher that is taxed when used: the rate at which VAT falls due on what lapses, or null for none; it differs between countries, so ask an accountant. Left out for one that was taxed when sold.',
    }),
  })
  .meta({ id: 'NewLapse' });
export type NewLapse = z.output<typeof NewLapse>;

export const NewVoucherExtension = z
  .strictObject({
    validUntil: LocalDate.refine(
      (day) => '2000-01-01' <= day && day < '2100-01-01',
      'must be between 2000 and 2099',
    ).meta({ description: 'Its new last day, later than the one it has.' }),
    reason: PrintedLine(200).meta({ description: 'Why, for the books; the letter does not say it.' }),
  })
  .meta({ id: 'NewVoucherExtension' });
export type NewVoucherExtension = z.output<typeof NewVoucherExtension>;

export const VoucherEvent = z
  .object({
    id: Id,
    on: LocalDate,
    kind: z.enum(['sold', 'used', 'returned', 'lapsed', 'extended']),
    amountMinor: z.int().nullable().meta({
      description: 'What went on it, or below zero what came off; null: nothing moved.',
    }),
    what: z.string(),
    validUntil: LocalDate.nullable().meta({ description: 'Its new last day, where it was extended.' }),
    madeBy: z.string().nullable().meta({ description: 'Who extended it.' }),
  })
  .meta({ id: 'VoucherEvent' });
export type VoucherEvent = z.output<typeof VoucherEvent>;

export const VoucherQuery = ListQuery.extend({
  q: ListQuery.shape.q.meta({
    description: 'Words of the name of who bought it, of whom it is for, or a part of its code.',
  }),
  code: VoucherCode.optional().meta({ description: 'The voucher of this code only.' }),
  buyerId: Id.optional(),
  state: z.enum(['open', 'expired', 'ended']).optional().meta({
    description: 'Open: something is left and its day has not passed. Expired: it has. Ended: used up or lapsed.',
  }),
});
export type VoucherQuery = z.output<typeof VoucherQuery>;
