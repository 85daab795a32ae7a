import fc from 'fast-check';
import { Decimal } from '../../src/trade/money/money.js';
import { type CostLine, coursePrice, type PriceInputs } from '../../src/trade/pricing/course-price.js';
import { ADVERTISING, BISQUE, CLAY, GLAZE, type Of, OTHER, ROOM, SUNK } from './cost-kinds.js';

export const source = { kind: 'setting' as const, detail: 'An example.' };

export function line(of: Of, basis: CostLine['basis'], quantity: string, rateMinor: string, unit = 'kg'): CostLine {
  return { ...of, label: `Line ${of.key}`, basis, quantity, unit, rateMinor, source };
}

/** An evening course with something of everything. */
export const EVENINGS: PriceInputs = {
  currency: 'GBP',
  ...{ places: 8, minimum: 4, enrolment: { alpha: '9', beta: '3', source } },
  ...{ vatPercent: '0', cardPercent: '1.7', cardFixedMinor: 20, payments: 2 },
  lines: [
    line(CLAY, 'per-student', '4', '100'),
    line(GLAZE, 'per-student', '0.5', '900'),
    { ...line(BISQUE, 'per-student', '0.05', '2400', 'kiln load'), electricityMinor: '2000' },
    line(OTHER, 'per-student', '2', '50', 'piece'),
    line(ROOM, 'per-course', '12', '500', 'h'),
    line(ADVERTISING, 'per-course', '1', '1500', 'course'),
    line(SUNK, 'if-cancelled', '1', '1200', 'course'),
  ],
  remakesPercent: '15',
  ...{ ownerHours: '16.5', ownerHoursPerStudent: '0.5', wagePerHourMinor: 2400 },
  secondTutor: { feeMinor: 9000, above: 6 },
  ...{ targetSurplusMinor: 6000, payFloorPerHourMinor: 1200, poorAtMost: '0.05', priceStepMinor: 500 },
};

const tenths = (min: number, max: number) => fc.integer({ min, max }).map((n) => new Decimal(n).div(10).toFixed());

/** The same evenings in many sizes; `secondTutor` is a step of its own, so that a property can leave it out. */
export const anyEvenings: fc.Arbitrary<PriceInputs> = fc
  .record({
    places: fc.integer({ min: 2, max: 12 }),
    minimum: fc.integer({ min: 1, max: 12 }),
    enrolment: fc.record({ alpha: tenths(30, 200), beta: tenths(5, 60), source: fc.constant(source) }),
    vatPercent: fc.constantFrom('0', '5', '20'),
    cardPercent: tenths(0, 50),
    ownerHours: tenths(10, 400),
    wagePerHourMinor: fc.integer({ min: 0, max: 400 }).map((n) => n * 10),
    secondTutor: fc.option(fc.record({ feeMinor: fc.integer({ min: 0, max: 20_000 }), above: fc.nat(12) })),
    targetSurplusMinor: fc.nat(20_000),
    payFloorPerHourMinor: fc.nat(4000),
    poorAtMost: fc.integer({ min: 0, max: 100 }).map((n) => new Decimal(n).div(100).toFixed()),
    priceStepMinor: fc.constantFrom(1, 100, 500),
    scale: tenths(1, 50),
  })
  .map(({ scale, minimum, ...rest }) => ({
    ...EVENINGS,
    ...rest,
    minimum: Math.min(minimum, rest.places),
    lines: EVENINGS.lines.map((l) => ({ ...l, quantity: new Decimal(l.quantity).times(scale).toFixed() })),
  }));

/** The exact price that both conditions ask for, before it is rounded to the step. */
export function exactPrice(inputs: PriceInputs): Decimal {
  const { surplusPriceMinor, riskPriceMinor } = coursePrice(inputs);
  return Decimal.max(surplusPriceMinor, riskPriceMinor);
}
