import { z } from 'zod';
import { Id, LocalDate } from '../../http/types.js';
import { Seen } from '../../problems.js';
import { NewMaterial } from '../materials/contract.js';

const toOrder = {
  materialId: Id,
  name: z.string(),
  unit: NewMaterial.shape.unit,
  needQuantity: z.int().meta({ description: 'What the outlook asks for, in its packs.' }),
  orderBy: LocalDate,
  atMost: z.boolean().meta({
    description: 'Worked out from upper bounds: it may be less, and later. See the outlook.',
  }),
};

export const SuggestedSupplier = z
  .object({
    supplierId: Id,
    supplier: z.string(),
    orderBy: LocalDate.meta({ description: 'The last day for the most pressing of it.' }),
    lines: z.array(
      z.object({
        ...toOrder,
        packs: z
          .array(z.object({ packQuantity: z.int(), packs: z.int(), packPriceMinor: z.int(), amountMinor: z.int() }))
          .meta({ description: 'The cheapest that cover the need between them.' }),
      }),
    ),
    goodsMinor: z.int(),
    carriageMinor: z.int(),
    totalMinor: z.int(),
    toFreeCarriage: z
      .object({ moreMinor: z.int(), savesMinor: z.int(), advice: z.string() })
      .nullable()
      .meta({ description: 'So much more of goods would save the carriage. Only told: nothing is added by itself.' }),
  })
  .meta({ id: 'SuggestedSupplier' });
export type SuggestedSupplier = z.output<typeof SuggestedSupplier>;

export const OrderProposal = z
  .object({
    suppliers: z.array(SuggestedSupplier).meta({ description: 'An order for each, the most pressing first.' }),
    toMix: z.array(z.object({ ...toOrder, mixId: Id })).meta({
      description: 'What is mixed here: a batch of it by that day; its materials are in the outlook.',
    }),
    unsold: z
      .array(z.object({ ...toOrder, advice: z.object({ text: z.string(), ...Seen }) }))
      .meta({ description: 'What must be ordered too, and has no supplier set.' }),
  })
  .meta({ id: 'OrderProposal' });
export type OrderProposal = z.output<typeof OrderProposal>;
