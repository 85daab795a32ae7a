import { z } from 'zod';
import { Hazard } from './hazard-words.js';
import { PaperDay, PaperLine, paperHead } from './parts.js';

/** What stands on the buckets of one batch. */
export const BucketLabelsContent = z
  .strictObject({
    ...paperHead,
    copies: z.int().min(1).max(24),
    name: PaperLine,
    number: z.int().min(1),
    version: z.int().min(1),
    mixedOn: PaperDay,
    parts: z
      .array(z.strictObject({ name: PaperLine, grams: z.int().min(1) }))
      .min(1)
      .readonly(),
    litreGrams: z.int().nullable(),
    firesC: PaperLine.nullable().meta({ description: 'For example "1,200–1,250 °C".' }),
    hazards: z.array(Hazard).readonly(),
  })
  .readonly();
export type BucketLabelsContent = z.output<typeof BucketLabelsContent>;
