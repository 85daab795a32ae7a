import { z } from 'zod';
import { Hazard, Words } from './hazard-words.js';
import { PaperDay, PaperLine, paperHead } from './parts.js';

/** What is weighed out for one batch. */
export const BatchSheetContent = z
  .strictObject({
    ...paperHead,
    name: PaperLine,
    version: z.int().min(1),
    printedOn: PaperDay,
    makeGrams: z.int().min(1),
    weights: z.enum(['dry', 'wet']),
    inPercent: z.boolean(),
    parts: z
      .array(
        z.strictObject({
          name: PaperLine,
          share: PaperLine,
          grams: z.int().min(0),
          weighGrams: z.int().min(1),
          ml: z.int().min(1).nullable().meta({ description: 'Where the shelf counts it in ml.' }),
        }),
      )
      .min(1)
      .readonly(),
    addWaterMl: z.int().min(0),
    tooWetMl: z.int().min(0),
    litreGrams: z.int().nullable(),
    solidsDensity: z.string(),
    isDensityAssumed: z.boolean(),
    makes: PaperLine.meta({ description: 'For example, "1,340 ml".' }),
    note: Words.nullable(),
    hazards: z.array(Hazard).readonly(),
  })
  .superRefine(({ parts, makeGrams }, context) => {
    if (parts.reduce((sum, { grams }) => sum + grams, 0) !== makeGrams)
      context.addIssue({ code: 'custom', path: ['parts'], message: 'The parts do not add up to the batch.' });
  })
  .readonly();
export type BatchSheetContent = z.output<typeof BatchSheetContent>;
