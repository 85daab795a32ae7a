import { z } from 'zod';
import { Id } from '../../http/types.js';
import { FIRING_KINDS } from '../../trade/firing/kiln-room.js';

export const CostSource = z
  .object({ kind: z.enum(['lot', 'meter', 'tariff', 'setting', 'plan', 'history', 'assumption']), detail: z.string() })
  .meta({ id: 'CostSource', description: 'Where a rate came from, in a sentence for the owner.' });

const ofLine = {
  key: z.string().meta({ description: 'Which line it is; what it pays for is said by its kind.' }),
  label: z.string(),
  basis: z.enum(['per-student', 'per-course', 'if-cancelled']),
  quantity: z.string(),
  unit: z.string(),
  rateMinor: z.string(),
  source: CostSource,
};
const reachPercent = z
  .string()
  .optional()
  .meta({ description: 'Of what is made again, how much gets as far as this.' });

const MaterialLine = z.object({
  ...ofLine,
  kind: z.literal('material'),
  materialId: Id,
  use: z.enum(['clay', 'glaze', 'other']),
  isReclaim: z.boolean().meta({ description: 'It takes off what comes back of the material.' }),
  reachPercent,
});

const FiringLine = z.object({
  ...ofLine,
  kind: z.literal('firing'),
  firing: z
    .object({ kilnId: Id, scheduleId: Id, kind: z.enum(FIRING_KINDS) })
    .nullable()
    .meta({ description: 'Null in an older saved price, where the plan no longer has the firing.' }),
  wholeLoads: z.boolean().meta({ description: 'Whole loads are counted, not the share that the ware takes of one.' }),
  reachPercent,
  electricityMinor: z.string().optional().meta({ description: 'What of the rate is electricity.' }),
});

const OtherLine = z.object({ ...ofLine, kind: z.enum(['room', 'advertising', 'sunk', 'input-vat']) });

export const CostLine = z.discriminatedUnion('kind', [MaterialLine, FiringLine, OtherLine]).meta({ id: 'CostLine' });

const amount = { amountMinor: z.string() };
export const CostedLine = z
  .discriminatedUnion('kind', [MaterialLine.extend(amount), FiringLine.extend(amount), OtherLine.extend(amount)])
  .meta({ id: 'CostedLine' });
