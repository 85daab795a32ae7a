import { z } from 'zod';
import { Hazard } from './hazard-words.js';
import { Day, Line, paperHead } from './parts.js';

/** What stands on the buckets of one batch. */
export const BucketLabelsContent = z
  .strictObject({
    ...paperHead,
    copies: z.int().min(1).max(24),
    name: Line,
    number: z.int().min(1),
    version: z.int().min(1),
    mixedOn: Day,
    parts: z
      .array(z.strictObject({ name: Line, grams: z.int().min(1) }))
      .min(1)
      .readonly(),
    litreGrams: z.int().nullable(),
    firesC: Line.nullable().meta({ description: 'For example "1,200–1,250 °C".' }),
    hazards: z.array(Hazard).readonly(),
  })
  .readonly();
export type BucketLabelsContent = z.output<typeof BucketLabelsContent>;
