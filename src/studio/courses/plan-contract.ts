import { z } from 'zod';
import { PrintedLine } from '../../documents/printable.js';
import { DecimalText, Id, LocalDate, Minor } from '../../http/types.js';
import { SIZES, VESSEL_SHAPES } from '../../trade/materials/vessel-shapes.js';
import { Purpose } from './contract.js';
import { faultsOf, planTerms } from './plan-terms.js';

const Millimetres = z.int().min(1).max(2000);
const Size = z.strictObject({ widthMm: Millimetres, depthMm: Millimetres, heightMm: Millimetres });
const Minutes = (max: number, min = 0) => z.int().min(min).max(max);

const PlanSession = z.strictObject({
  purpose: Purpose,
  minutes: Minutes(720, 15),
  prepareMinutes: Minutes(720),
  clearMinutes: Minutes(720),
});

const PlanGlaze = z.strictObject({
  materialId: Id,
  // three decimals, as many as are kept: a fourth would be dropped without a word
  gramsPerDm2: DecimalText.refine(
    (grams) => Number(grams) > 0 && Number(grams) <= 100 && /^\d+(\.\d{1,3})?$/.test(grams),
    'must be above 0 and at most 100, with up to 3 decimals',
  ).meta({ description: 'Dry grams per dm² of the finished coating, all coats together.' }),
});

const ComesAs = z.enum(['bisque', 'fired']).nullable().meta({
  description:
    'Null where students make it, of clay. Ware that comes made has no clay: bisque goes through the glaze firing and what is after it, fired ware through lustre firings alone.',
});
const pieceFields = {
  form: z.enum(VESSEL_SHAPES),
  perStudent: z.int().min(1).max(100),
  wetMassGrams: z.int().min(1).max(200_000).nullable(),
  clayId: Id.nullable(),
  glaze: PlanGlaze.nullable(),
};
const NewPlanPiece = z
  .strictObject({
    ...pieceFields,
    comesAs: ComesAs.default(null),
    tileId: Id.nullable().default(null).meta({ description: 'The test tile that it should look like.' }),
    size: z
      .union([z.enum(SIZES), Size])
      .meta({ description: 'Fired size; a word means a likely size of that form, which is an assumption.' }),
  })
  .superRefine(({ comesAs, clayId, wetMassGrams }, context) => {
    const fields = { clayId, wetMassGrams };
    for (const [path, value] of Object.entries(fields)) {
      const message =
        comesAs === null ? 'is needed for what students make' : 'must be empty: ware that comes made takes no clay';
      if ((value === null) === (comesAs === null)) context.addIssue({ code: 'custom', path: [path], message });
    }
  });
const PlanPiece = z.object({ ...pieceFields, comesAs: ComesAs, tileId: Id.nullable(), size: Size });
export type PlanPiece = z.output<typeof PlanPiece>;

const fields = {
  name: PrintedLine(120),
  places: z.int().min(1).max(200),
  minimum: z.int().min(0).max(200),
  payments: z.int().min(1).max(12).meta({
    description:
      'In how many payments a student is expected to pay, until a course says it by its deposit; card fees fall on each.',
  }),
  otherMinutes: Minutes(60_000).meta({
    description: "The owner's time outside the sessions: loading, unloading, messages.",
  }),
  minutesPerStudent: Minutes(6000),
  advertisingMinor: Minor,
  sunkIfCancelledMinor: Minor.meta({ description: 'What is lost where too few book and the course does not run.' }),
  secondTutor: z
    .strictObject({ feeMinor: Minor, above: z.int().min(1).max(200) })
    .nullable()
    .meta({ description: 'A second tutor and their fee, needed with more than `above` students.' }),
  sessions: z.array(PlanSession).min(1).max(60),
  materials: z
    .array(z.strictObject({ materialId: Id, perStudent: z.int().min(1).max(1_000_000) }))
    .max(50)
    .refine((list) => new Set(list.map((m) => m.materialId)).size === list.length, 'must not name a material twice')
    .meta({ description: 'What else each student uses, in base units: slip, stains, packaging.' }),
  firings: z
    .array(z.strictObject({ kilnId: Id, scheduleId: Id }))
    .max(20)
    .meta({ description: 'What the pieces go through, in order.' }),
  wholeLoads: z.boolean().meta({
    description:
      'The course pays for whole kiln loads, as many as it takes when full; else each student for the share of a load that their ware takes.',
  }),
};

const DryingDays = z.int().min(0).max(90).meta({
  description: 'How long ware dries before its first firing; a week for walls of 6 to 8 mm is common practice.',
});

export const NewPlan = z
  .strictObject({
    ...fields,
    ...planTerms,
    dryingDays: DryingDays.default(7),
    wholeLoads: fields.wholeLoads.default(false),
    pieces: z.array(NewPlanPiece).max(50),
  })
  .superRefine((of, context) => {
    for (const [path, message] of faultsOf(of)) context.addIssue({ code: 'custom', path: [path], message });
  })
  .meta({ id: 'NewCoursePlan' });
export type NewPlan = z.output<typeof NewPlan>;

export const Plan = z
  .object({
    ...{ id: Id, ...fields, ...planTerms, dryingDays: DryingDays, pieces: z.array(PlanPiece) },
    retiredOn: LocalDate.nullable().meta({
      description: 'Since when it is not offered for new courses; null where it is.',
    }),
    litresPerStudent: z.object({ bisque: z.string(), glaze: z.string(), lustre: z.string() }).meta({
      description:
        'The room that the ware of one student takes in a firing of each kind: dry and stacked in the bisque, with its gaps in the glaze and lustre firings.',
    }),
  })
  .meta({ id: 'CoursePlan' });
export type Plan = z.output<typeof Plan>;
