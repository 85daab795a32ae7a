import { z } from 'zod';
import { Id, LocalDate, Minor, SingleLine, Text } from '../../http/types.js';
import { Quantity } from './contract.js';

const LOTS_MAX = 60;

export const Arrived = z
  .strictObject({
    receivedOn: LocalDate,
    lots: z
      .array(
        z.strictObject({
          materialId: Id,
          quantity: Quantity,
          costMinor: Minor.meta({ description: 'As billed, without carriage that is billed for all together.' }),
        }),
      )
      .min(1)
      .max(LOTS_MAX),
  })
  .meta({ id: 'Arrived' });
export type Arrived = z.output<typeof Arrived>;

export const NewConsignment = Arrived.extend({ supplier: SingleLine(120) }).meta({ id: 'NewConsignment' });
export type NewConsignment = z.output<typeof NewConsignment>;

export const Consignment = z
  .object({
    id: Id,
    supplier: z.string(),
    receivedOn: LocalDate,
    orderId: Id.nullable(),
    lots: z.array(z.object({ lotId: Id, materialId: Id, quantity: z.int(), costMinor: z.int() })),
  })
  .meta({ id: 'Consignment', description: 'Lots that came together.' });
export type Consignment = z.output<typeof Consignment>;

export const NewCarriage = z
  .strictObject({ amountMinor: Minor.min(1), note: Text(300).default('') })
  .meta({ id: 'NewCarriage' });
export type NewCarriage = z.output<typeof NewCarriage>;

export const CarriageBill = z
  .object({
    id: Id,
    consignmentId: Id,
    amountMinor: z.int(),
    note: z.string(),
    shares: z.array(
      z.object({
        lotId: Id,
        materialId: Id,
        amountMinor: z.int(),
        usedMinor: z
          .int()
          .meta({ description: 'What of it falls on what was drawn already, and left the shelf at once.' }),
      }),
    ),
  })
  .meta({ id: 'CarriageBill' });
export type CarriageBill = z.output<typeof CarriageBill>;

export const NewReturn = z
  .strictObject({
    lotId: Id,
    quantity: Quantity,
    creditMinor: Minor.meta({ description: 'What the supplier gives back for it.' }),
    note: Text(300).default(''),
  })
  .meta({ id: 'NewReturn' });
export type NewReturn = z.output<typeof NewReturn>;

export const Returned = z
  .object({ moveId: Id, lotId: Id, quantity: z.int(), costMinor: z.int(), creditMinor: z.int(), left: z.int() })
  .meta({ id: 'Returned', description: 'What went back left the shelf at its cost; the credit is what came for it.' });
export type Returned = z.output<typeof Returned>;

export const NewReclaim = z
  .strictObject({
    quantity: Quantity,
    costMinor: Minor.default(0).meta({ description: 'Of the hours that went into it, where they are counted.' }),
    note: Text(300).default(''),
  })
  .meta({ id: 'NewReclaim' });
export type NewReclaim = z.output<typeof NewReclaim>;
