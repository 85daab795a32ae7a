import { z } from 'zod';
import { PrintedLine } from '../../documents/printable.js';
import { Email, Id, Minor } from '../../http/types.js';
import { Quantity } from './contract.js';

export const NewSupplier = z
  .strictObject({
    name: PrintedLine(120),
    email: Email.nullable().default(null),
    addressLines: z.array(PrintedLine()).max(7).default([]),
    leadTimeDays: z.int().min(0).max(365).meta({ description: 'From placing an order until it is here.' }),
    carriageMinor: Minor.meta({ description: 'On an order below freeFromMinor.' }),
    freeFromMinor: Minor.min(1)
      .nullable()
      .default(null)
      .meta({ description: 'Goods of this sum come free of carriage; null: carriage is always charged.' }),
  })
  .meta({ id: 'NewSupplier' });
export type NewSupplier = z.output<typeof NewSupplier>;

export const Supplier = z
  .object({
    id: Id,
    name: z.string(),
    email: z.string().nullable(),
    addressLines: z.array(z.string()),
    leadTimeDays: z.int(),
    carriageMinor: z.int(),
    freeFromMinor: z.int().nullable(),
  })
  .meta({ id: 'Supplier' });
export type Supplier = z.output<typeof Supplier>;

/** More sizes of one material than any supplier sells. */
const PACKS_MAX = 12;

export const Supply = z
  .strictObject({
    supplierId: Id.nullable().meta({ description: 'Where it is usually bought.' }),
    packs: z
      .array(z.strictObject({ quantity: Quantity, priceMinor: Minor }))
      .max(PACKS_MAX)
      .refine((packs) => new Set(packs.map((p) => p.quantity)).size === packs.length, 'must have each quantity once')
      .meta({
        description: "As what it is sold there, in the material's unit, with VAT unless the studio gets it back.",
      }),
  })
  .refine(({ supplierId, packs }) => supplierId !== null || packs.length === 0, {
    path: ['supplierId'],
    error: 'is needed with packs: their prices are those of a supplier',
  })
  .meta({ id: 'Supply' });
export type Supply = z.output<typeof Supply>;
