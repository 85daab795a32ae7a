import fc from 'fast-check';
import { Decimal } from '../../src/trade/money/money.js';
import type { CostLine, PriceInputs } from '../../src/trade/pricing/course-price.js';
import { BY_BASIS } from './cost-kinds.js';

// Courses to price, by hand and at random.

export const source = { kind: 'assumption' as const, detail: 'An example.' };

export function line(basis: CostLine['basis'], quantity: string, rateMinor: string, key: string = basis): CostLine {
  return { ...BY_BASIS[basis], key, label: `Line ${key}`, basis, quantity, unit: 'kg', rateMinor, source };
}

/** Ten pounds for each student and nothing else but one unpaid hour. */
export const plain: PriceInputs = {
  currency: 'GBP',
  places: 4,
  minimum: 1,
  enrolment: { alpha: '1', beta: '1', source },
  vatPercent: '0',
  cardPercent: '0',
  cardFixedMinor: 0,
  payments: 1,
  lines: [line('per-student', '2', '500')],
  ownerHours: '1',
  ownerHoursPerStudent: '0',
  wagePerHourMinor: 0,
  secondTutor: null,
  targetSurplusMinor: 0,
  payFloorPerHourMinor: 0,
  poorAtMost: '1',
  priceStepMinor: 1,
};

const decimal = (max: number, places = 3) =>
  fc.integer({ min: 0, max: max * 10 ** places }).map((whole) => new Decimal(whole).div(10 ** places).toString());
const tenths = (min: number, max: number) =>
  fc.integer({ min, max }).map((whole) => new Decimal(whole).div(10).toString());
const minor = (max: number) => fc.integer({ min: 0, max });

// no enrolment so thin that no sensible price exists: that one is refused, and tested among the refusals
export const anyInputs: fc.Arbitrary<PriceInputs> = fc
  .record({
    places: fc.integer({ min: 1, max: 14 }),
    minimumPart: fc.double({ min: 0, max: 1, noNaN: true }),
    enrolment: fc.record({ alpha: tenths(30, 200), beta: tenths(1, 60), source: fc.constant(source) }),
    vatPercent: fc.constantFrom('0', '5', '17.5', '20', '23'),
    cardPercent: decimal(5),
    cardFixedMinor: minor(50),
    payments: fc.integer({ min: 0, max: 4 }),
    amounts: fc.tuple(decimal(20), decimal(900), decimal(90), decimal(900), decimal(9), decimal(900)),
    ownerHours: tenths(1, 400),
    ownerHoursPerStudent: decimal(2),
    wagePerHourMinor: minor(4000),
    secondTutor: fc.option(fc.record({ feeMinor: minor(20_000), above: fc.integer({ min: 0, max: 14 }) })),
    targetSurplusMinor: minor(20_000),
    payFloorPerHourMinor: minor(4000),
    poorAtMost: decimal(1),
    priceStepMinor: fc.constantFrom(1, 50, 100, 300, 500),
  })
  .map(({ minimumPart, amounts: a, ...rest }) => ({
    ...rest,
    currency: 'EUR',
    minimum: Math.max(1, Math.ceil(minimumPart * rest.places)),
    lines: [line('per-student', a[0], a[1]), line('per-course', a[2], a[3]), line('if-cancelled', a[4], a[5])],
  }));
