import { z } from 'zod';
import { PrintedLine } from '../../documents/printable.js';
import { PageQuery } from '../../http/paging.js';
import { Id, Instant, Minor, Text } from '../../http/types.js';
import { MoneyMethod } from '../accounts/contract.js';
import { Quantity } from '../materials/contract.js';

/** A million of the currency's units for a kilogram is a slip of the keys. */
const Price = Minor.min(1).max(100_000_000).meta({ description: 'For a kilogram, a litre or a piece, VAT included.' });

export const SellingPrice = z
  .strictObject({
    priceMinor: Price.nullable().meta({ description: 'Null: each sale says it.' }),
    taxRateId: Id.nullable().meta({ description: 'Null: each sale says it.' }),
  })
  .meta({ id: 'SellingPrice', description: 'What a student pays for a kilogram, a litre or a piece, VAT included.' });
export type SellingPrice = z.output<typeof SellingPrice>;

export const NewSale = z
  .strictObject({
    personId: Id.meta({ description: 'Who takes it home, and owes it.' }),
    materialId: Id,
    quantity: Quantity,
    priceMinor: Price.optional(),
    taxRateId: Id.optional(),
    note: Text(300).default(''),
  })
  .meta({ id: 'NewSale', description: 'Without priceMinor or taxRateId, those of the selling price hold.' });
export type NewSale = z.output<typeof NewSale>;

export const NewTakingBack = z
  .strictObject({
    quantity: Quantity.optional().meta({ description: 'Left out: all that they still have.' }),
    reason: PrintedLine(200),
    method: MoneyMethod.optional().meta({
      description: 'How a refund is paid; needed where there is one and not all of it goes on a voucher.',
    }),
  })
  .meta({ id: 'NewTakingBack' });
export type NewTakingBack = z.output<typeof NewTakingBack>;

const TakingBack = z
  .object({
    id: Id,
    at: Instant,
    quantity: z.int(),
    creditedMinor: Minor,
    reason: z.string(),
    creditNoteDocumentId: Id.nullable().meta({ description: 'Where something that was paid went back.' }),
  })
  .meta({ id: 'TakingBack' });

export const Sale = z
  .object({
    id: Id,
    at: Instant,
    personId: Id,
    personName: z.string(),
    materialId: Id,
    materialName: z.string(),
    unit: z.enum(['g', 'ml', 'piece']),
    quantity: z.int(),
    keptQuantity: z.int().meta({ description: 'Of it, what was not taken back.' }),
    includedQuantity: z
      .int()
      .meta({ description: 'Of what was sold, what the buyer’s membership includes; it is credited.' }),
    priceMinor: Minor.meta({ description: 'For a kilogram, a litre or a piece, VAT included.' }),
    chargeId: Id,
    grossMinor: Minor,
    vatMinor: Minor.meta({ description: 'Included in grossMinor.' }),
    taxName: z.string(),
    creditedMinor: Minor,
    paidMinor: Minor.meta({ description: 'Less what was refunded.' }),
    owedMinor: Minor,
    note: z.string(),
    takingsBack: z.array(TakingBack),
  })
  .meta({ id: 'Sale' });
export type Sale = z.output<typeof Sale>;

export const Sold = Sale.extend({
  foundQuantity: z.int().meta({ description: 'What was not in recorded stock, and was taken as found.' }),
  onHand: z.int().meta({ description: 'What is left in recorded stock.' }),
  asksForCount: z.boolean(),
}).meta({ id: 'Sold' });
export type Sold = z.output<typeof Sold>;

export const SaleQuery = PageQuery.extend({ personId: Id.optional(), materialId: Id.optional() });
export type SaleQuery = z.output<typeof SaleQuery>;
