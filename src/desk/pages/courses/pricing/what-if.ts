import { Decimal } from '../../../../trade/money/money.js';
import { isFiring, usedAs } from '../../../../trade/pricing/cost-lines.js';
import type { PriceInputs } from '../../../../trade/pricing/course-price.js';
import { dearer, expectedFill, filled, fullerLoads, withPlaces } from '../../../../trade/pricing/input-changes.js';
import type { SoldAt } from '../../../../trade/pricing/price-inputs.js';

/** What the owner tries out. Percentages are changes to today's figures; null leaves a figure as it is. */
export type WhatIf = {
  priceMinor: number | null;
  places: number;
  minimum: number;
  wagePerHourMinor: number;
  clayPercent: number;
  glazePercent: number;
  firingPercent: number;
  /** how much more ware stands in each kiln load, which makes each piece's share of it smaller */
  loadPercent: number;
  /** how full the course is expected to be, 5 to 95 */
  fillPercent: number;
  /** which part of the places goes at a reduced price, and what is paid for one, both in percent */
  reducedPercent: number;
  reducedToPercent: number;
};

const USUAL_REDUCTION_TO = 80;

/** Today's figures, from which nothing is changed. */
export function today(inputs: PriceInputs): WhatIf {
  return {
    priceMinor: null,
    places: inputs.places,
    minimum: inputs.minimum,
    wagePerHourMinor: inputs.wagePerHourMinor,
    clayPercent: 0,
    glazePercent: 0,
    firingPercent: 0,
    loadPercent: 0,
    fillPercent: fillOf(inputs),
    ...reducedToday(inputs),
  };
}

/** Whether the fair price is one of figures that are not today's. A price to ask that is tried leaves it as it is. */
export function hasOtherFigures(inputs: PriceInputs, { priceMinor: _, ...wanted }: WhatIf): boolean {
  const { priceMinor, ...now } = today(inputs);
  return Object.entries(now).some(([name, value]) => wanted[name as keyof typeof wanted] !== value);
}

/** Prices are tried in finer steps than they are rounded to. */
export const finer = (step: number) => (step % 5 === 0 ? step / 5 : step);

/** The share of places that is expected to be booked, in whole percent. */
export const fillOf = (inputs: Pick<PriceInputs, 'enrolment'>): number =>
  expectedFill(inputs).times(100).round().toNumber();

/** The inputs as they would be. What is left as it is today stays exactly as it came. */
export function applied(inputs: PriceInputs, wanted: WhatIf): PriceInputs {
  const changes: [changed: boolean, change: (before: PriceInputs) => PriceInputs][] = [
    [wanted.clayPercent !== 0, (before) => dearer(before, usedAs('clay'), wanted.clayPercent)],
    [wanted.glazePercent !== 0, (before) => dearer(before, usedAs('glaze'), wanted.glazePercent)],
    [wanted.firingPercent !== 0, (before) => dearer(before, isFiring, wanted.firingPercent)],
    [wanted.loadPercent !== 0, (before) => fullerLoads(before, wanted.loadPercent)],
    [wanted.fillPercent !== fillOf(inputs), (before) => filled(before, wanted.fillPercent)],
    [retried(inputs, wanted), (before) => ({ ...before, sold: soldAt(wanted) })],
  ];
  const offered = { ...inputs, minimum: wanted.minimum, wagePerHourMinor: wanted.wagePerHourMinor };
  return changes
    .filter(([changed]) => changed)
    .reduce((before, [, change]) => change(before), withPlaces(offered, wanted.places));
}

/** The concessions that are kept, as one reduced price: their places together, and what is paid for one of them on average. */
function reducedToday({ sold }: PriceInputs): Pick<WhatIf, 'reducedPercent' | 'reducedToPercent'> {
  const others = (sold ?? []).slice(1);
  const sum = (of: (at: SoldAt) => Decimal) => others.reduce((total, at) => total.plus(of(at)), new Decimal(0));
  const places = sum(({ sharePercent }) => new Decimal(sharePercent));
  if (places.isZero()) return { reducedPercent: 0, reducedToPercent: USUAL_REDUCTION_TO };
  const paid = sum(({ sharePercent, pricePercent = '100' }) => new Decimal(sharePercent).times(pricePercent)).div(
    places,
  );
  return { reducedPercent: places.round().toNumber(), reducedToPercent: paid.round().toNumber() };
}

/** As long as nobody moves them, the kept ones stay exactly as they are, sums and payments included. */
function retried(inputs: PriceInputs, wanted: WhatIf): boolean {
  const kept = reducedToday(inputs);
  return kept.reducedPercent !== wanted.reducedPercent || kept.reducedToPercent !== wanted.reducedToPercent;
}

function soldAt({ reducedPercent, reducedToPercent }: WhatIf): SoldAt[] {
  return [
    { label: 'The full price', sharePercent: String(100 - reducedPercent) },
    { label: 'A reduced price', sharePercent: String(reducedPercent), pricePercent: String(reducedToPercent) },
  ];
}
