import { z } from 'zod';
import { PrintedLine } from '../../documents/printable.js';
import { Id, Instant, LocalDate, Text } from '../../http/types.js';
import { NewMaterial, Quantity } from '../materials/contract.js';

const LINES_MAX = 60;
const PACKS_MAX = 10_000;

export const NewOrder = z
  .strictObject({
    supplierId: Id,
    lines: z
      .array(
        z.strictObject({
          materialId: Id,
          packQuantity: Quantity.meta({ description: 'One of the packs in which that supplier sells it.' }),
          packs: z.int().min(1).max(PACKS_MAX),
        }),
      )
      .min(1)
      .max(LINES_MAX),
    note: PrintedLine(300).nullable().default(null).meta({ description: 'Printed on the order.' }),
  })
  .meta({ id: 'NewOrder' });
export type NewOrder = z.output<typeof NewOrder>;

export const Placing = z
  .strictObject({
    expectedOn: LocalDate.optional().meta({ description: 'Unless told otherwise, by the longest lead time in it.' }),
  })
  .meta({ id: 'Placing' });
export const Cancelling = z
  .strictObject({
    note: Text(300).default('').meta({ description: 'Why the order, or what is left of it, is cancelled.' }),
  })
  .meta({ id: 'Cancelling' });

const OrderLine = z.object({
  materialId: Id,
  name: z.string(),
  unit: NewMaterial.shape.unit,
  packQuantity: z.int(),
  packs: z.int(),
  packPriceMinor: z.int(),
  amountMinor: z.int(),
});

export const Order = z
  .object({
    id: Id,
    number: z.int(),
    supplierId: Id,
    supplier: z.string(),
    state: z.enum(['drafted', 'placed', 'partReceived', 'received', 'cancelled']).meta({
      description: 'Received: all of it has come, or the rest was cancelled.',
    }),
    events: z.array(z.object({ kind: z.enum(['drafted', 'placed', 'cancelled']), at: Instant, note: z.string() })),
    expectedOn: LocalDate.nullable(),
    documentId: Id.nullable().meta({
      description: 'The order as it was placed, as PDF under /api/documents/{id}/pdf.',
    }),
    note: z.string().nullable(),
    lines: z.array(OrderLine),
    arrivals: z
      .array(z.object({ materialId: Id, ordered: z.int(), received: z.int() }))
      .meta({ description: 'For each material, in its unit.' }),
    goodsMinor: z.int(),
    carriageMinor: z.int(),
    totalMinor: z.int(),
  })
  .meta({ id: 'SupplyOrder' });
export type Order = z.output<typeof Order>;
