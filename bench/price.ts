import { Decimal } from '../src/trade/money/money.js';
import { type CostLine, coursePrice, type PriceInputs, sensitivities } from '../src/trade/pricing/course-price.js';
import { type PriceTerms, readTerms } from '../src/trade/pricing/price-terms.js';
import { profitTableOf } from '../src/trade/pricing/profit-table.js';
import { compare, sameWithin } from './measure.js';

const source = { kind: 'setting' as const, detail: 'For the bench.' };
const lineOf = (key: string, quantity: string, rateMinor: string) => ({
  ...{ key, label: key, basis: 'per-student' as const, quantity, unit: 'kg', rateMinor, source },
});
const material = (use: 'clay' | 'glaze' | 'other', ...of: Parameters<typeof lineOf>): CostLine => ({
  ...{ kind: 'material', materialId: of[0], use, isReclaim: false },
  ...lineOf(...of),
});
const firing = (kind: 'bisque' | 'glaze', ...of: Parameters<typeof lineOf>): CostLine => ({
  ...{ kind: 'firing', firing: { kilnId: 'kiln', scheduleId: kind, kind }, wholeLoads: false },
  ...lineOf(...of),
});

const SURPLUS_MINOR = 6000;
/** Two prices to draw a line through, and one beyond all that anybody asks. */
const [LOW, HIGH, HIGHEST_MINOR] = [10_000, 50_000, 1_000_000];

/** A course of twelve places with clay, two glazes, both firings, a box, the room and advertising. */
const inputs: PriceInputs = {
  currency: 'GBP',
  places: 12,
  minimum: 5,
  enrolment: { alpha: '7', beta: '3', source },
  vatPercent: '20',
  cardPercent: '1.75',
  cardFixedMinor: 20,
  payments: 2,
  lines: [
    material('clay', 'clay-1', '2.415', '118.5'),
    material('glaze', 'glaze-1', '0.143', '2310.25'),
    material('glaze', 'glaze-2', '0.081', '2750'),
    firing('bisque', 'firing-1', '7.2', '31.27'),
    firing('glaze', 'firing-2', '7.2', '52.9'),
    material('other', 'other-1', '1', '45'),
    { kind: 'room', ...lineOf('room', '11.5', '600'), basis: 'per-course' },
    { kind: 'advertising', ...lineOf('advertising', '1', '2500'), basis: 'per-course' },
    { kind: 'sunk', ...lineOf('sunk', '1', '2500'), basis: 'if-cancelled' },
  ],
  ownerHours: '16.5',
  ownerHoursPerStudent: '0.25',
  wagePerHourMinor: 2400,
  secondTutor: { feeMinor: 9000, above: 8 },
  targetSurplusMinor: SURPLUS_MINOR,
  payFloorPerHourMinor: 1200,
  poorAtMost: '0.1',
  priceStepMinor: 500,
};

const NEARLY = 1e-6; // of a penny: a line through two floats is off by less

/**
 * What a competent person would do, to the penny, which is what one can ask: what is left on average grows by a line with the price, so
 * that two ladders say from where on it is enough; the risk goes by steps, so that its price is halved for in whole pennies, each try
 * adding up the chances of being paid too little and no more; and last comes the ladder at the fair price. The terms are read once.
 */
function priceToThePenny(of: PriceInputs = inputs) {
  const terms = readTerms(of);
  const at = (minor: number) => profitTableOf(terms, new Decimal(minor));
  const [low, high] = [at(LOW), at(HIGH)];
  const enough = (left: (table: typeof low) => number) => {
    const perPenny = (left(high) - left(low)) / (HIGH - LOW);
    return Math.ceil(LOW - left(low) / perPenny - NEARLY);
  };
  const costFloorMinor = enough((table) => Number(table.expectedBeforeWageMinor));
  const floorMinor = enough((table) => Number(table.expectedResultMinor));
  const surplusMinor = enough((table) => Number(table.expectedResultMinor) - SURPLUS_MINOR);
  let [tooLittle, riskMinor] = [0, HIGHEST_MINOR];
  while (riskMinor - tooLittle > 1) {
    const half = Math.floor((tooLittle + riskMinor) / 2);
    if (chancePaidTooLittle(terms, half) > Number(of.poorAtMost)) tooLittle = half;
    else riskMinor = half;
  }
  const fairMinor = Math.ceil(Math.max(surplusMinor, riskMinor) / of.priceStepMinor) * of.priceStepMinor;
  return { costFloorMinor, floorMinor, fairMinor, table: at(fairMinor) };
}

function chancePaidTooLittle({ takings, turnouts, payFloorPerHourMinor }: PriceTerms, priceMinor: number): number {
  const keptEach = takings.keptPart.times(priceMinor).plus(takings.keptPlusMinor);
  return turnouts
    .filter(({ held, students }) => held && students > 0)
    .filter(({ students, costMinor, ownerHours }) =>
      keptEach.times(students).minus(costMinor).lt(ownerHours.times(payFloorPerHourMinor)),
    )
    .reduce((sum, { probability }) => sum + Number(probability), 0);
}

export const full = () => ({ price: coursePrice(inputs), why: sensitivities(inputs) });

/** As often as `full` works out a price: once as things are, and once for each thing that may change. */
const PRICES = 1 + sensitivities(inputs).length;
export const fullToThePenny = () => Array.from({ length: PRICES }, () => priceToThePenny());

export const TO_THE_PENNY =
  'to the penny: a line through two ladders, halving for the risk, a ladder at the fair price';

/** @throws Error where the two ways differ by a penny */
function samePrice(): void {
  const [ours, theirs] = [coursePrice(inputs), priceToThePenny()];
  sameWithin(0, Math.ceil(Number(ours.costFloorMinor)), theirs.costFloorMinor, 'Where costs are covered');
  sameWithin(0, Math.ceil(Number(ours.floorMinor)), theirs.floorMinor, 'The floor');
  sameWithin(0, ours.fairPriceMinor, theirs.fairMinor, 'The fair price');
  sameWithin(1e-9, Number(ours.expectedResultMinor), Number(theirs.table.expectedResultMinor), 'What is left');
}

export function priceBench(): void {
  samePrice();
  compare(
    'A full price at 12 places (floor, fair price, distribution, ladder, pay range)',
    { name: 'coursePrice', run: () => coursePrice(inputs) },
    { name: TO_THE_PENNY, run: () => priceToThePenny() },
  );
  compare(
    'The same with all sensitivities',
    { name: 'coursePrice and sensitivities', run: full },
    { name: `${TO_THE_PENNY}; ${PRICES} times, as often as a price is worked out for them`, run: fullToThePenny },
  );
}
