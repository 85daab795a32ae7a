import { z } from 'zod';
import { Id, Instant, SingleLine } from '../../http/types.js';

/** As many figures as a form of the desk has, and more. */
const FIGURES_MAX = 30;

export const NewAssumption = z
  .strictObject({
    kind: z.enum(['room', 'kiln', 'schedule', 'tax', 'refundPolicy', 'tariff', 'material', 'lot']),
    subjectId: Id.meta({ description: 'Of what holds the figures; of tax the rate on firings, of a lot its price.' }),
    figures: z
      .array(SingleLine(80))
      .min(1)
      .max(FIGURES_MAX)
      .meta({ description: 'Which figures are only usual ones, in words: "Price per kWh".' }),
  })
  .meta({ id: 'NewAssumption' });
export type NewAssumption = z.output<typeof NewAssumption>;

export const Assumption = z
  .object({
    ...NewAssumption.shape,
    figures: z.array(z.string()),
    name: z.string().meta({ description: 'What holds the figures is called so.' }),
    notedAt: Instant,
  })
  .meta({ id: 'Assumption', description: 'It ends when what it is about is changed, or confirmed as it is.' });
export type Assumption = z.output<typeof Assumption>;
