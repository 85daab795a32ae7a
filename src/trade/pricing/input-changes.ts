import { amountMinor, Decimal, roundHalfUp } from '../money/money.js';
import { isSharedLoad, type LineTest } from './cost-lines.js';
import type { CostLine, PriceInputs } from './price-inputs.js';
import { timesMade } from './remakes.js';

// Single changes to what a price depends on. Rates and quantities stay exact; what must be whole stays whole.

type Amount = Decimal | string | number;

const HUNDRED = new Decimal(100);
const QUANTITY_DECIMALS = 30; // a quotient has to end somewhere, far behind the last penny

/** Everything that a test names costs so many percent more; less, below zero. */
export function dearer(inputs: PriceInputs, isDearer: LineTest, percent: Amount): PriceInputs {
  return withLines(inputs, (line) =>
    isDearer(line) ? { ...line, rateMinor: grown(line.rateMinor, percent).toFixed() } : line,
  );
}

/** Electricity costs so many percent more; what wears out in a firing does not. */
export function dearerElectricity(inputs: PriceInputs, percent: Amount): PriceInputs {
  return withLines(inputs, (line) => {
    if (line.kind !== 'firing') return line;
    const electricity = new Decimal(line.electricityMinor ?? line.rateMinor);
    const more = grown(electricity, percent).minus(electricity);
    const rateMinor = more.plus(line.rateMinor).toFixed();
    return { ...line, rateMinor, electricityMinor: electricity.plus(more).toFixed() };
  });
}

/** So many percent more ware stands in each kiln load, which makes each piece's share of it smaller. */
export function fullerLoads(inputs: PriceInputs, percent: Amount): PriceInputs {
  return withLines(inputs, (line) => {
    if (!isSharedLoad(line)) return line;
    const share = new Decimal(line.quantity).times(100).div(HUNDRED.plus(percent));
    return { ...line, quantity: share.toDecimalPlaces(QUANTITY_DECIMALS).toFixed() };
  });
}

/** So many percent more of what must be made again: 15 % of the pieces become 16.5 %. Clay, glaze and firings grow with it, as far as such pieces get. */
export function moreRemakes(inputs: PriceInputs, percent: Amount): PriceInputs {
  const before = new Decimal(inputs.remakesPercent ?? 0);
  const after = grown(before, percent);
  const lines = withLines(inputs, (line) => {
    const reach = reachOf(line);
    if (reach === null || (line.kind === 'firing' && line.wholeLoads)) return line; // as many loads as before, or one more: nobody knows from here
    const drawn = timesMade(after.toFixed(), reach).times(line.quantity).div(timesMade(before.toFixed(), reach));
    return { ...line, quantity: drawn.toDecimalPlaces(QUANTITY_DECIMALS).toFixed() };
  });
  return { ...lines, remakesPercent: after.toFixed() };
}

/** All that is made again takes clay, also in a price that was saved before it was known what else it takes. */
function reachOf(line: CostLine): string | null {
  if (line.kind === 'firing') return line.reachPercent ?? null;
  if (line.kind !== 'material') return null;
  return line.reachPercent ?? (line.use === 'clay' ? '100' : null);
}

type Surplus = Pick<PriceInputs, 'targetSurplusMinor' | 'surplusPerHour'>;

/** The sum that so much for each hour of teaching makes, with how it came about. */
export function surplusByHour(rateMinor: number, teachingHours: string): Required<Surplus> {
  return {
    targetSurplusMinor: amountMinor(teachingHours, String(rateMinor)),
    surplusPerHour: { rateMinor, teachingHours },
  };
}

/** So many percent more should be left: of the rate for an hour, or of the sum where that is all that is known. */
export function moreSurplus(inputs: PriceInputs, percent: Amount): PriceInputs {
  const more = (minor: number) => roundHalfUp(grown(minor, percent));
  const { surplusPerHour: by } = inputs;
  if (!by) return { ...inputs, targetSurplusMinor: more(inputs.targetSurplusMinor) };
  return { ...inputs, ...surplusByHour(more(by.rateMinor), by.teachingHours) };
}

/** The part of its places that a course is expected to fill. */
export function expectedFill({ enrolment }: Pick<PriceInputs, 'enrolment'>): Decimal {
  const alpha = new Decimal(enrolment.alpha);
  return alpha.div(alpha.plus(enrolment.beta));
}

/** So many percent more bookings are expected; the certainty about them (alpha + beta) stays, only the mean moves. */
export function moreBookings(inputs: PriceInputs, percent: Amount): PriceInputs {
  return withAlpha(inputs, grown(inputs.enrolment.alpha, percent));
}

/** A course is expected to fill this part of its places; the certainty stays. */
export function filled(inputs: PriceInputs, percent: Amount): PriceInputs {
  const certainty = new Decimal(inputs.enrolment.alpha).plus(inputs.enrolment.beta);
  return withAlpha(inputs, certainty.times(percent).div(100));
}

function withAlpha(inputs: PriceInputs, alpha: Decimal): PriceInputs {
  const beta = new Decimal(inputs.enrolment.alpha).plus(inputs.enrolment.beta).minus(alpha);
  return { ...inputs, enrolment: { ...inputs.enrolment, alpha: alpha.toFixed(), beta: beta.toFixed() } };
}

/** With so many places; a course can't need more students than it has places. */
export function withPlaces(inputs: PriceInputs, places: number): PriceInputs {
  return { ...inputs, places, minimum: Math.min(inputs.minimum, places) };
}

const grown = (value: Amount, percent: Amount) => new Decimal(value).times(HUNDRED.plus(percent)).div(100);

function withLines(inputs: PriceInputs, change: (line: CostLine) => CostLine): PriceInputs {
  return { ...inputs, lines: inputs.lines.map(change) };
}
