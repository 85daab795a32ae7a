import { z } from 'zod';
import { FIRING_KINDS } from '../../trade/firing/kiln-room.js';
import type { CostKind, CostLine, PlannedFiring, PriceInputs } from '../../trade/pricing/price-inputs.js';
import type { PrivateInputs } from '../../trade/pricing/private-price.js';

// What a saved price depends on, as it is stored. A stored row is never rewritten, so that a schema here never changes: what a price
// depends on from some day on is a version of its own, into which the older ones are turned when they are read.

/** Of a course or open studio, or of a private session. */
export type QuoteInputs = PriceInputs | PrivateInputs;

export const asStored = <Inputs extends QuoteInputs>(inputs: Inputs) => ({ version: 2, ...inputs });

/**
 * What a saved price depended on.
 *
 * @param firings those of its plan today: before version 2 a line said only which of them it was
 * @returns null where it can't be read
 */
export function readStored(stored: unknown, firings: readonly PlannedFiring[]): QuoteInputs | null {
  switch (Versioned.safeParse(stored).data?.version) {
    case 1: {
      const first = Version1.safeParse(stored).data;
      return first ? upgraded(first, firings) : null;
    }
    case 2:
      return Version2.safeParse(stored).data ?? null;
    default:
      return null;
  }
}

/** The first version was written without its number. */
const Versioned = z.object({ version: z.number().default(1) });

const decimal = z.string().regex(/^-?\d+(\.\d+)?$/);
const source = z.object({
  kind: z.enum(['lot', 'meter', 'tariff', 'setting', 'plan', 'history', 'assumption']),
  detail: z.string(),
});

/** Of any price. */
const terms = {
  ...{ currency: z.string(), places: z.int(), vatPercent: decimal, cardPercent: decimal, cardFixedMinor: z.int() },
  parts: z
    .array(
      z.object({
        ...{ label: z.string(), vatPercent: decimal },
        ...{ sharePercent: decimal.optional(), amountMinor: z.int().optional() },
      }),
    )
    .optional(),
  ...{ payments: z.int(), paymentsSource: source.optional() },
  ...{ ownerHours: decimal, ownerHoursPerStudent: decimal, wagePerHourMinor: z.int() },
  secondTutor: z.object({ feeMinor: z.int(), above: z.int() }).nullable(),
  targetSurplusMinor: z.int(),
  surplusPerHour: z.object({ rateMinor: z.int(), teachingHours: decimal }).optional(),
  priceStepMinor: z.int(),
};

/** Of a price for each place. */
const ofPlaces = {
  ...{ minimum: z.int(), mostPlaces: z.int().optional(), remakesPercent: decimal.optional() },
  enrolment: z.object({ alpha: decimal, beta: decimal, source }),
  sold: z
    .array(
      z.object({
        ...{ label: z.string(), sharePercent: decimal, pricePercent: decimal.optional() },
        ...{ discountMinor: z.int().optional(), payments: z.int().optional() },
      }),
    )
    .optional(),
  ...{ payFloorPerHourMinor: z.int(), poorAtMost: decimal },
};

const line = {
  ...{ key: z.string(), label: z.string(), basis: z.enum(['per-student', 'per-course', 'if-cancelled']) },
  ...{ quantity: decimal, unit: z.string(), rateMinor: decimal, source },
};
const reachPercent = decimal.optional();
const electricityMinor = decimal.optional();

const inputsOf = <Line extends z.ZodType>(of: Line) =>
  z.union([
    z.object({ ...terms, groupOf: z.int(), lines: z.array(of) }),
    z.object({ ...terms, ...ofPlaces, lines: z.array(of) }),
  ]);

const LineOfVersion2 = z.discriminatedUnion('kind', [
  z.object({
    ...{ ...line, kind: z.literal('material'), materialId: z.string(), use: z.enum(['clay', 'glaze', 'other']) },
    ...{ isReclaim: z.boolean(), reachPercent },
  }),
  z.object({
    ...{ ...line, kind: z.literal('firing'), wholeLoads: z.boolean(), reachPercent, electricityMinor },
    firing: z.object({ kilnId: z.string(), scheduleId: z.string(), kind: z.enum(FIRING_KINDS) }).nullable(),
  }),
  z.object({ ...line, kind: z.enum(['room', 'advertising', 'sunk', 'input-vat']) }),
]);

const Version2 = inputsOf(LineOfVersion2);

/** Without a version: its lines were told apart by their keys. */
const LineOfVersion1 = z.object({ ...line, reachPercent, electricityMinor });
const Version1 = inputsOf(LineOfVersion1);
type LineOfVersion1 = z.output<typeof LineOfVersion1>;

function upgraded(first: z.output<typeof Version1>, firings: readonly PlannedFiring[]): QuoteInputs | null {
  const lines = first.lines.flatMap((before) => upgradedLine(before, firings) ?? []);
  return lines.length < first.lines.length ? null : { ...first, lines };
}

/** The only place where a key is parsed. */
function upgradedLine(before: LineOfVersion1, firings: readonly PlannedFiring[]): CostLine | null {
  const kind = kindOfKey(before, firings);
  return kind && { ...before, ...kind };
}

function kindOfKey({ key, unit }: LineOfVersion1, firings: readonly PlannedFiring[]): CostKind | null {
  const [, use, materialId = '', back] = /^(clay|glaze|other)-(.+?)(-reclaim)?$/.exec(key) ?? [];
  if (use === 'clay' || use === 'glaze' || use === 'other')
    return { kind: 'material', materialId, use, isReclaim: back !== undefined };
  const [, number] = /^firing-(\d+)$/.exec(key) ?? [];
  if (number !== undefined)
    return { kind: 'firing', firing: firings[Number(number) - 1] ?? null, wholeLoads: unit === 'whole load' };
  if (key === 'room' || key === 'advertising' || key === 'sunk') return { kind: key };
  return /^input-vat-/.test(key) ? { kind: 'input-vat' } : null;
}
