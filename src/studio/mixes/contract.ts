import { z } from 'zod';
import { PrintedLine } from '../../documents/printable.js';
import { DecimalText, Id, Instant, LocalDate } from '../../http/types.js';
import { HEAVIEST_LITRE_GRAMS, LIGHTEST_LITRE_GRAMS } from '../../trade/materials/litre-weight.js';
import { Material, Quantity } from '../materials/contract.js';

const PARTS_MAX = 40;
const GRAMS_MAX = 1_000_000;

const Share = DecimalText.refine(
  (share) => Number(share) > 0 && Number(share) <= 1_000_000 && /^\d+(\.\d{1,4})?$/.test(share),
  'must be above 0 and at most 1,000,000, with up to 4 decimals',
).meta({ description: 'By weight, in any scale: 50 and 50 are the same as 1 and 1.' });

const recipe = {
  weights: z.enum(['dry', 'wet']).meta({
    description: 'What the shares are of: dry matter, or the materials as used (wet).',
  }),
  inPercent: z.boolean().default(false).meta({ description: 'The shares are meant as percent: they must make 100.' }),
  litreGrams: z.int().min(1001).max(4000).nullable().default(null).meta({
    description:
      'What a litre should weigh once water is added. Left out where the mixed material says it already: by its dry grams per ml, or its water.',
  }),
  solidsDensity: DecimalText.refine(
    (density) => Number(density) >= 1.1 && Number(density) <= 10 && /^\d+(\.\d{1,3})?$/.test(density),
    'must be between 1.1 and 10, with up to 3 decimals',
  )
    .nullable()
    .default(null)
    .meta({ description: 'Of the dry matter, relative to water. Null: not measured, 2.6 is assumed.' }),
};

export const NewRecipe = z
  .strictObject({
    ...recipe,
    parts: z.array(z.strictObject({ materialId: Id, share: Share })).max(PARTS_MAX),
    note: PrintedLine(600).nullable().default(null),
  })
  .meta({ id: 'NewRecipe' });
export type NewRecipe = z.output<typeof NewRecipe>;

export const NewMix = NewRecipe.extend({ productId: Id.meta({ description: 'The material that is mixed.' }) }).meta({
  id: 'NewMix',
});
export type NewMix = z.output<typeof NewMix>;

const stuff = {
  name: z.string(),
  kind: Material.shape.kind,
  unit: Material.shape.unit,
  waterPercent: z.string().nullable(),
  dryGramsPerMl: z.string().nullable(),
};

export const Mix = z
  .object({
    id: Id,
    product: z.object({ id: Id, ...stuff }),
    version: z.int(),
    since: Instant.meta({ description: 'When this version was written; batches keep the one they were made by.' }),
    weights: recipe.weights,
    inPercent: z.boolean(),
    litreGrams: z.int().nullable(),
    solidsDensity: z.string().nullable(),
    parts: z.array(z.object({ materialId: Id, ...stuff, share: z.string() })),
    note: z.string().nullable(),
  })
  .meta({ id: 'Mix' });
export type Mix = z.output<typeof Mix>;

/** Grams of a batch in the recipe's terms; a tonne at most, more is a slip of the keys. */
export const MakeGrams = z.int().min(1).max(GRAMS_MAX);

export const NewBatch = z
  .strictObject({
    makeGrams: MakeGrams.meta({
      description: 'Of dry matter or of the materials as used (wet), as the recipe is written.',
    }),
    measuredQuantity: Quantity.optional().meta({
      description: "What it came to, in the product's unit. Unless told otherwise, what the recipe makes.",
    }),
    measuredLitreGrams: z
      .int()
      .min(LIGHTEST_LITRE_GRAMS)
      .max(HEAVIEST_LITRE_GRAMS)
      .nullable()
      .default(null)
      .meta({ description: 'What a litre of it weighed; null where nobody weighed one.' }),
    note: PrintedLine(200).nullable().default(null),
  })
  .meta({ id: 'NewMixBatch' });
export type NewBatch = z.output<typeof NewBatch>;

export const Undoing = z.strictObject({ note: PrintedLine(200) }).meta({ id: 'MixUndoing' });

export const MixBatch = z
  .object({
    id: Id,
    number: z.int().meta({ description: 'Printed on the bucket label.' }),
    mixId: Id,
    materialId: Id,
    name: z.string(),
    unit: Material.shape.unit,
    version: z.int(),
    lotId: Id,
    quantity: z.int().meta({ description: 'What it made, in its unit.' }),
    left: z.int(),
    makeGrams: z.int(),
    addWaterMl: z.int(),
    litreGrams: z.int().nullable().meta({ description: 'What a litre should weigh by the recipe.' }),
    measuredLitreGrams: z.int().nullable(),
    madeOn: LocalDate,
    note: z.string().nullable(),
    parts: z.array(
      z.object({
        materialId: Id,
        name: z.string(),
        unit: Material.shape.unit,
        weighGrams: z.int(),
        quantity: z.int().meta({ description: 'What left the shelf, in its unit.' }),
        asksForCount: z.boolean(),
      }),
    ),
    undoing: z.object({ at: Instant, note: z.string() }).nullable(),
  })
  .meta({ id: 'MixBatch' });
export type MixBatch = z.output<typeof MixBatch>;

export const MixCosts = z
  .object({
    parts: z.array(z.object({ materialId: Id, rateMinor: z.string().nullable(), detail: z.string() })).meta({
      description: 'Minor units per g or ml of each part at its next purchase; null where nobody ever paid for it.',
    }),
    batches: z
      .array(z.object({ batchId: Id, costMinor: z.int() }))
      .meta({ description: 'Exactly what each one drew.' }),
  })
  .meta({ id: 'MixCosts' });
export type MixCosts = z.output<typeof MixCosts>;
