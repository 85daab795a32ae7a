import { z } from 'zod';
import { Id, Instant } from '../../http/types.js';

const KilnLoad = z
  .object({
    kilnId: Id,
    kiln: z.string(),
    scheduleId: Id,
    schedule: z.string(),
    perStudent: z.string().meta({ description: 'Of a load at the usual fill.' }),
    ifFull: z.string().meta({ description: 'Loads, with every place taken.' }),
    from: Instant.meta({
      description: 'When the last ware for it can go in: made, dry, and out of the firing before.',
    }),
    outBy: Instant.nullable().meta({
      description: 'When it must be out and cold: its session begins. Null: none follows.',
    }),
    spareHours: z.number().nullable().meta({ description: 'Between the earliest that it is cold and that session.' }),
  })
  .meta({ id: 'KilnLoad' });
export type KilnLoad = z.output<typeof KilnLoad>;

export const KilnLoads = z
  .object({ courseId: Id, places: z.int(), loads: z.array(KilnLoad) })
  .meta({ id: 'KilnLoads', description: 'The firings that a course causes, and between when each must happen.' });
export type KilnLoads = z.output<typeof KilnLoads>;
