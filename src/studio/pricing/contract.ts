import { z } from 'zod';
import { Id } from '../../http/types.js';
import { LEVERS } from '../../trade/pricing/levers.js';
import { CostedLine, CostLine, CostSource } from './cost-line-contract.js';

const SoldAt = z
  .object({
    label: z.string(),
    sharePercent: z.string(),
    pricePercent: z.string().optional(),
    discountMinor: z.int().optional(),
    payments: z.int().optional(),
  })
  .meta({ id: 'SoldAt', description: 'A price between: a percentage of the full price, or a sum less than it.' });

const PricePart = z
  .object({
    label: z.string(),
    vatPercent: z.string(),
    sharePercent: z.string().optional(),
    amountMinor: z.int().optional(),
  })
  .meta({ id: 'PricePart', description: 'A part of a price with a different VAT rate.' });

const PriceInputs = z
  .object({
    currency: z.string(),
    places: z.int(),
    minimum: z.int(),
    enrolment: z.object({ alpha: z.string(), beta: z.string(), source: CostSource }),
    mostPlaces: z.int().optional().meta({ description: 'The most for which the room has benches.' }),
    sold: z.array(SoldAt).optional().meta({ description: 'Left out: everybody pays the full price.' }),
    vatPercent: z.string(),
    parts: z.array(PricePart).optional().meta({ description: 'Left out: the whole price has one VAT rate.' }),
    cardPercent: z.string(),
    cardFixedMinor: z.int(),
    payments: z.int(),
    paymentsSource: CostSource.optional(),
    lines: z.array(CostLine),
    remakesPercent: z.string().optional().meta({ description: 'Made again, as it is in clay, glaze and firings.' }),
    ownerHours: z.string(),
    ownerHoursPerStudent: z.string(),
    wagePerHourMinor: z.int(),
    secondTutor: z.object({ feeMinor: z.int(), above: z.int() }).nullable(),
    targetSurplusMinor: z.int().meta({ description: 'What should be left over, on average, for all of it.' }),
    surplusPerHour: z
      .object({ rateMinor: z.int(), teachingHours: z.string() })
      .optional()
      .meta({ description: 'How that sum came about; left out of a price saved before it was asked for by the hour.' }),
    payFloorPerHourMinor: z.int(),
    poorAtMost: z.string(),
    priceStepMinor: z.int(),
  })
  .meta({ id: 'PriceInputs', description: 'All that a price depends on; the desk works with the same.' });

const PrivateInputs = PriceInputs.omit({
  minimum: true,
  enrolment: true,
  mostPlaces: true,
  sold: true,
  payFloorPerHourMinor: true,
  poorAtMost: true,
  remakesPercent: true,
})
  .extend({ groupOf: z.int().meta({ description: "How many people the group's price includes." }) })
  .meta({ id: 'PrivateInputs', description: 'All that the price of a private session depends on.' });

const Rung = z
  .object({
    students: z.int(),
    probability: z.string(),
    held: z.boolean(),
    resultMinor: z.string(),
    ownerPayPerHourMinor: z.string(),
    costPerStudentMinor: z
      .string()
      .nullable()
      .meta({ description: 'Without VAT. Null without any student, as open studio may be.' }),
    breakEvenPriceMinor: z.string().nullable().meta({
      description:
        'The full price, with VAT and card fees in it, at which so many pay for every cost and your wage; null without any student.',
    }),
  })
  .meta({ id: 'LadderRung' });

const PayRange = z.object({ meanMinor: z.string(), lowMinor: z.string(), highMinor: z.string() }).meta({
  id: 'PayRange',
  description:
    "The owner's pay per hour over courses that run: its mean, and the least pay that one course in ten, and " +
    'nine in ten, do not exceed.',
});

const PriceResult = z
  .object({
    lines: z.array(CostedLine),
    perStudentMinor: z.string(),
    fixedMinor: z.string(),
    sunkIfCancelledMinor: z.string(),
    enrolmentProbabilities: z.array(z.string()),
    expectedBooked: z.string(),
    probabilityCancelled: z.string(),
    costFloorMinor: z.string().meta({ description: 'Every cost is covered on average, your time unpaid.' }),
    floorMinor: z.string().meta({ description: 'Your wage is paid too.' }),
    surplusPriceMinor: z.string(),
    riskPriceMinor: z.string(),
    fairPriceMinor: z.int(),
    binding: z.enum(['surplus', 'risk']),
    ladder: z.array(Rung),
    breakEvenStudents: z.int().nullable().meta({ description: 'The fewest who pay for every cost and your wage.' }),
    costsCoveredStudents: z.int().nullable().meta({ description: 'The fewest who pay for every cost.' }),
    negativeAgainAt: z.array(z.int()),
    expectedResultMinor: z.string().meta({ description: 'Left over on average when your wage is paid.' }),
    expectedBeforeWageMinor: z.string().meta({ description: 'Left over on average before your wage is paid.' }),
    probabilityUnderpaid: z.string(),
    probabilityUnderPayFloor: z.string(),
    probabilityOutOfPocket: z.string(),
    payPerHour: PayRange,
  })
  .meta({
    id: 'PriceResult',
    description: 'Sums in exact minor units as decimal strings; only the fair price is rounded.',
  });

const PrivateResult = z
  .object({
    lines: z.array(CostedLine),
    perHeadMinor: z.string(),
    fixedMinor: z.string(),
    costFloorMinor: z.string().meta({ description: 'For the group, with all of its people there: every cost.' }),
    floorMinor: z
      .string()
      .meta({ description: 'For the group, with all of its people there: every cost and your wage.' }),
    surplusPriceMinor: z.string().meta({ description: 'The same with the surplus that you want.' }),
    fairPriceMinor: z.int(),
    oneMoreMinor: z.string().meta({ description: 'What one more person costs, your time included, as a gross sum.' }),
    perHeadAboveMinor: z.int().meta({ description: 'To ask for each person above the group, at the step.' }),
    dearestHeads: z.int().nullable().meta({ description: 'The larger group that a second tutor makes the dearest.' }),
    ladder: z.array(
      z
        .object({
          heads: z.int(),
          chargedMinor: z.int(),
          floorMinor: z.string(),
          resultMinor: z.string(),
          ownerPayPerHourMinor: z.string(),
          costPerHeadMinor: z.string(),
        })
        .meta({ id: 'PrivateRung' }),
    ),
  })
  .meta({ id: 'PrivateResult', description: 'Exact sums in minor units as decimal strings; prices to ask are whole.' });

const Sensitivity = z
  .object({
    key: z.string(),
    label: z.string(),
    change: z.string(),
    fairPriceMinor: z.int(),
    exactMinor: z.string(),
    deltaMinor: z.string(),
  })
  .meta({
    id: 'Sensitivity',
    description: 'What one change by itself makes of the fair price, exact and at the step; delta is of the exact one.',
  });

const CeilingChange = z
  .object({
    key: z.enum(LEVERS),
    from: z.string(),
    to: z.string().meta({ description: "The nearest figure that suffices, to a step; or 'never'." }),
    step: z.string(),
    limit: z.string().meta({ description: 'How far it was tried.' }),
    relativePart: z.string().nullable(),
  })
  .meta({
    id: 'CeilingChange',
    description:
      'The least that one thing by itself must change. Counts, hours, minor units and a probability as they are; ' +
      "materials, advertising and loads in percent of today's.",
  });

const ComparedRow = z
  .object({
    key: z
      .string()
      .meta({ description: "A cost line's key, or a factor: hours, wage, tutor, offer, paid, wishes, rounding." }),
    line: z.object({ label: z.string(), first: z.string().nullable(), second: z.string().nullable() }).nullable().meta({
      description: 'A cost line with its exact amount then and now; null where there was or is none.',
    }),
    effectMinor: z.string(),
  })
  .meta({ id: 'ComparedRow', description: 'One thing that moved, and what it makes of the fair price, exactly.' });

const PriceSince = z
  .object({
    quoteId: Id,
    savedAt: z.iso.datetime(),
    fairPriceMinor: z.int().meta({ description: 'The fair price as it was saved.' }),
    rows: z
      .array(ComparedRow)
      .meta({ description: "The greatest effect first; they add up to today's less the saved one." }),
  })
  .nullable()
  .meta({ id: 'PriceSince', description: 'What moved since the price saved last; null where none was saved.' });
export type PriceSince = z.output<typeof PriceSince>;

const compared = {
  since: PriceSince,
  sinceUnknown: z
    .string()
    .nullable()
    .meta({ description: 'Why it is not known what moved since the price saved last, in a sentence; else null.' }),
};

const ofCourse = {
  courseId: Id,
  title: z.string(),
  priceMinor: z.int().meta({ description: 'What the course is sold for today.' }),
};
const reckoned = {
  inputs: PriceInputs,
  result: PriceResult,
  sensitivities: z.array(Sensitivity).meta({ description: 'The greatest effect first.' }),
};
const KIND = z
  .enum(['course', 'openStudio'])
  .meta({ description: 'A price for each place; for a bench and a visit in open studio.' });

const CoursePrice = z
  .object({
    kind: KIND,
    ...ofCourse,
    ...reckoned,
    ...compared,
    cheaper: z.array(CeilingChange).optional().meta({
      description: 'For atMostMinor: the least relative change first; empty where the fair price is not above it.',
    }),
  })
  .meta({ id: 'CoursePrice' });
export type CoursePrice = z.output<typeof CoursePrice>;

export const PlanPrice = z
  .object({
    ...{ kind: KIND, planId: Id, title: z.string(), ...reckoned },
    taxRateId: Id.meta({ description: 'What it was worked out with.' }),
  })
  .meta({ id: 'PlanPrice', description: 'A plan as it would be priced today, before it has dates.' });
export type PlanPrice = z.output<typeof PlanPrice>;

export const PlanPriceInShort = z
  .object({
    planId: Id,
    fairPriceMinor: z.int().nullable().meta({
      description: 'If it ran today; null for a private session, which is priced once it has a date.',
    }),
    refusal: z.string().nullable().meta({ description: 'Why it has no price yet, and what to do.' }),
    next: z
      .object({ courseId: Id, title: z.string(), startsAt: z.iso.datetime() })
      .nullable()
      .meta({ description: 'Of its courses that are coming or running the first.' }),
  })
  .meta({ id: 'PlanPriceInShort' });
export type PlanPriceInShort = z.output<typeof PlanPriceInShort>;

export const PrivatePrice = z
  .object({
    kind: z.literal('private'),
    ...ofCourse,
    perHeadAboveMinor: z.int().meta({ description: 'What it is sold for today, for each person above the group.' }),
    inputs: PrivateInputs,
    result: PrivateResult,
    ...compared,
  })
  .meta({ id: 'PrivatePrice', description: 'A private session: a price for the group, and for each person above it.' });
export type PrivatePrice = z.output<typeof PrivatePrice>;

export const Price = z.discriminatedUnion('kind', [CoursePrice, PrivatePrice]);
export type Price = z.output<typeof Price>;

const kept = { id: Id, computedAt: z.iso.datetime() };
export const PriceQuote = z.discriminatedUnion('kind', [
  CoursePrice.omit({ cheaper: true, since: true, sinceUnknown: true }).extend(kept).meta({ id: 'PriceQuote' }),
  PrivatePrice.omit({ since: true, sinceUnknown: true }).extend(kept).meta({ id: 'PrivatePriceQuote' }),
]);
export type PriceQuote = z.output<typeof PriceQuote>;
