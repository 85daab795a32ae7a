import {
  type CostLine,
  coursePrice,
  type PriceInputs,
  profitTableAt,
  sensitivities,
} from '../src/trade/pricing/course-price.js';
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
  targetSurplusMinor: 6000,
  payFloorPerHourMinor: 1200,
  poorAtMost: '0.1',
  priceStepMinor: 500,
};

/** Naive: the floor by trying prices, halving what lies between, each with a ladder of its own, to a millionth of a minor unit. */
export function floorByTrying(of: PriceInputs = inputs): number {
  let [low, high] = [0, 1_000_000];
  while (high - low > 1e-6) {
    const half = (low + high) / 2;
    if (Number(profitTableAt(of, half.toFixed(9)).expectedResultMinor) < 0) low = half;
    else high = half;
  }
  return high;
}

export const full = () => ({ price: coursePrice(inputs), why: sensitivities(inputs) });

export function priceBench(): void {
  sameWithin(1e-5, Number(coursePrice(inputs).floorMinor), floorByTrying(inputs), 'The floor');
  compare(
    'A full price at 12 places (floor, fair price, distribution, ladder, pay range), against its floor alone by trying',
    { name: 'coursePrice', run: () => coursePrice(inputs) },
    { name: 'floor by halving, a ladder for each try', run: () => floorByTrying(inputs) },
  );
  compare(
    'The same with all sensitivities, against the floor alone by trying',
    { name: 'coursePrice and sensitivities', run: full },
    { name: 'floor by halving, a ladder for each try', run: () => floorByTrying(inputs) },
  );
}
