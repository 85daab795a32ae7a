import { z } from 'zod';
import { Id, LocalDate } from '../../http/types.js';
import { LEVERS } from '../../trade/price-levers.js';

const CostSource = z
  .object({ kind: z.enum(['lot', 'meter', 'tariff', 'setting', 'plan', 'history', 'assumption']), detail: z.string() })
  .meta({ id: 'CostSource', description: 'Where a rate came from, in a sentence for the owner.' });

const CostLine = z
  .object({
    key: z.string(),
    label: z.string(),
    basis: z.enum(['per-student', 'per-course', 'if-cancelled']),
    quantity: z.string(),
    unit: z.string(),
    rateMinor: z.string(),
    electricityMinor: z.string().optional().meta({ description: 'What of the rate is electricity, for a firing.' }),
    source: CostSource,
  })
  .meta({ id: 'CostLine' });

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
  .meta({ id: 'PricePart', description: 'What of a price bears another VAT than the rest.' });

const PriceInputs = z
  .object({
    currency: z.string(),
    places: z.int(),
    minimum: z.int(),
    enrolment: z.object({ alpha: z.string(), beta: z.string(), source: CostSource }),
    mostPlaces: z.int().optional().meta({ description: 'The most for which the room has benches.' }),
    sold: z.array(SoldAt).optional().meta({ description: 'Left out: everybody pays the full price.' }),
    vatPercent: z.string(),
    parts: z.array(PricePart).optional().meta({ description: 'Left out: the whole price bears one VAT.' }),
    cardPercent: z.string(),
    cardFixedMinor: z.int(),
    payments: z.int(),
    lines: z.array(CostLine),
    remakesPercent: z.string().optional().meta({ description: 'Made again, as it stands in the clay drawn.' }),
    ownerHours: z.string(),
    ownerHoursPerStudent: z.string(),
    wagePerHourMinor: z.int(),
    secondTutor: z.object({ feeMinor: z.int(), above: z.int() }).nullable(),
    targetSurplusMinor: z.int(),
    payFloorPerHourMinor: z.int(),
    poorAtMost: z.string(),
    priceStepMinor: z.int(),
  })
  .meta({ id: 'PriceInputs', description: 'All that a price depends on; the desk reckons with the same.' });

const Rung = z
  .object({
    students: z.int(),
    probability: z.string(),
    held: z.boolean(),
    resultMinor: z.string(),
    ownerPayPerHourMinor: z.string(),
    costPerStudentMinor: z.string(),
  })
  .meta({ id: 'LadderRung' });

const PayRange = z.object({ meanMinor: z.string(), lowMinor: z.string(), highMinor: z.string() }).meta({
  id: 'PayRange',
  description:
    "The owner's pay per hour over courses that are held: its mean, and the least pay that one course in ten, and " +
    'nine in ten, do not exceed.',
});

const PriceResult = z
  .object({
    lines: z.array(CostLine.extend({ amountMinor: z.string() }).meta({ id: 'CostedLine' })),
    perStudentMinor: z.string(),
    fixedMinor: z.string(),
    sunkIfCancelledMinor: z.string(),
    enrolmentProbabilities: z.array(z.string()),
    expectedBooked: z.string(),
    probabilityCancelled: z.string(),
    floorMinor: z.string(),
    surplusPriceMinor: z.string(),
    riskPriceMinor: z.string(),
    fairPriceMinor: z.int(),
    binding: z.enum(['surplus', 'risk']),
    ladder: z.array(Rung),
    breakEvenStudents: z.int().nullable(),
    negativeAgainAt: z.array(z.int()),
    expectedResultMinor: z.string(),
    probabilityUnderpaid: z.string(),
    probabilityUnderPayFloor: z.string(),
    probabilityOutOfPocket: z.string(),
    payPerHour: PayRange,
  })
  .meta({
    id: 'PriceResult',
    description: 'Sums in exact minor units as decimal strings; only the fair price is rounded.',
  });

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
      'The least that one thing by itself must change. Counts, hours, minor units and a probability as they stand; ' +
      "materials, advertising and loads in percent of today's.",
  });

export const CoursePrice = z
  .object({
    courseId: Id,
    title: z.string(),
    priceMinor: z.int().meta({ description: 'What the course is sold for today.' }),
    inputs: PriceInputs,
    result: PriceResult,
    sensitivities: z.array(Sensitivity).meta({ description: 'The greatest effect first.' }),
    cheaper: z.array(CeilingChange).optional().meta({
      description: 'For atMostMinor: the least relative change first; empty where the fair price is not above it.',
    }),
  })
  .meta({ id: 'CoursePrice' });
export type CoursePrice = z.output<typeof CoursePrice>;

export const PriceQuote = CoursePrice.omit({ cheaper: true })
  .extend({ id: Id, computedAt: z.iso.datetime() })
  .meta({ id: 'PriceQuote' });
export type PriceQuote = z.output<typeof PriceQuote>;

const Need = z.object({
  courseId: Id,
  title: z.string(),
  day: LocalDate.meta({ description: 'The first day on which it still draws.' }),
  booked: z.int().meta({ description: 'What those booked will draw, less what the course drew already.' }),
  expected: z.int().meta({ description: 'What those expected in the end will draw, on average.' }),
});

const OutlookRow = z
  .object({
    day: LocalDate,
    leftIfBooked: z.int(),
    leftExpected: z.int(),
    leftAtWorst: z.int().meta({ description: 'It is worse than this with one chance in ten at most.' }),
    shortChance: z.string().meta({ description: 'Of having run short on this day or before it, 0 to 1.' }),
    courseIds: z.array(Id).meta({ description: 'The courses that draw on this day.' }),
  })
  .meta({
    id: 'OutlookRow',
    description: 'The end of a day on which something is drawn; below zero: so much is missing.',
  });

export const OutlookItem = z
  .object({
    materialId: Id,
    name: z.string(),
    unit: z.enum(['g', 'ml', 'piece']),
    packQuantity: z.int(),
    leadTimeDays: z.int(),
    onHand: z.int(),
    asksForCount: z.boolean(),
    onOrder: z
      .array(z.object({ orderId: Id, number: z.int(), expectedOn: LocalDate, quantity: z.int() }))
      .meta({ description: 'What was ordered and has not come. What is overdue is reckoned with from tomorrow on.' }),
    needs: z.array(Need),
    rows: z.array(OutlookRow),
    shortOn: z
      .object({ oneInTen: LocalDate.nullable(), oneInTwo: LocalDate.nullable(), sure: LocalDate.nullable() })
      .meta({
        description: 'The first day by which there is that chance of having run short; sure: by bookings alone.',
      }),
    packs: z.int().meta({ description: 'The fewest that bring the chance of running short under one in ten.' }),
    spoils: z.array(z.object({ day: LocalDate, quantity: z.int() })).meta({
      description: 'What is not used by the last day of its shelf life, if as many come as expected.',
    }),
    orderBy: LocalDate.nullable().meta({
      description: 'The last day to order, so that it is there the day before the chance is one in ten.',
    }),
  })
  .meta({ id: 'OutlookItem' });
export type OutlookItem = z.output<typeof OutlookItem>;
