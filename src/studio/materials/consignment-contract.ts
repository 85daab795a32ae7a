import { z } from 'zod';
import { Id, Line, LocalDate, Minor } from '../../http/types.js';
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

export const NewConsignment = Arrived.extend({ supplier: Line(120) }).meta({ id: 'NewConsignment' });
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
