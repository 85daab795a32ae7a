import type { PriceInputs } from '../../trade/course-price.js';
import { Decimal } from '../../trade/money.js';

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
};

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
    fillPercent: expectedFill(inputs),
  };
}

/** The share of places that is expected to be booked, in whole percent. */
export function expectedFill({ enrolment }: Pick<PriceInputs, 'enrolment'>): number {
  const alpha = new Decimal(enrolment.alpha);
  return alpha.div(alpha.plus(enrolment.beta)).times(100).round().toNumber();
}

const SCALED = [
  ['clay-', 'clayPercent'],
  ['glaze-', 'glazePercent'],
  ['firing-', 'firingPercent'],
] as const;

const SHARE_DECIMALS = 6;

/** The inputs as they would be. The certainty about enrolment (alpha + beta) stays, only its mean moves. */
export function applied(inputs: PriceInputs, wanted: WhatIf): PriceInputs {
  return {
    ...inputs,
    lines: inputs.lines.map((line) => refilled(repriced(line, wanted), wanted.loadPercent)),
    places: wanted.places,
    minimum: Math.min(wanted.minimum, wanted.places),
    wagePerHourMinor: wanted.wagePerHourMinor,
    enrolment: wanted.fillPercent === expectedFill(inputs) ? inputs.enrolment : moved(inputs, wanted.fillPercent),
  };
}

type Line = PriceInputs['lines'][number];

function repriced(line: Line, wanted: WhatIf): Line {
  const [, change] = SCALED.find(([prefix]) => line.key.startsWith(prefix)) ?? [];
  const percent = change ? wanted[change] : 0;
  if (percent === 0) return line;
  const rate = new Decimal(line.rateMinor).times(100 + percent).div(100);
  return { ...line, rateMinor: rate.toFixed() };
}

function refilled(line: Line, loadPercent: number): Line {
  if (loadPercent === 0 || line.unit !== 'kiln load') return line;
  const share = new Decimal(line.quantity).times(100).div(100 + loadPercent);
  return { ...line, quantity: share.toDecimalPlaces(SHARE_DECIMALS).toFixed() };
}

function moved({ enrolment }: PriceInputs, fillPercent: number): PriceInputs['enrolment'] {
  const certainty = new Decimal(enrolment.alpha).plus(enrolment.beta);
  const alpha = certainty.times(fillPercent).div(100);
  return { ...enrolment, alpha: alpha.toFixed(), beta: certainty.minus(alpha).toFixed() };
}
