import { Problem } from '../../problems.js';
import { Decimal, roundKeepingTotal } from '../../trade/money/money.js';
import type { Plan } from './plan-contract.js';

/**
 * What of a price for so many places bears another VAT, in whole minor units: the shares and sums of its plan, rounded together with
 * the rest, so that nothing is lost between them.
 *
 * @throws Problem invalid-request where the parts would be more than the price
 */
export function partsOfPrice(plan: Parted, priceMinor: number, places: number) {
  if (!partsFit(plan, priceMinor, places))
    throw new Problem(
      'invalid-request',
      `The parts of the plan "${plan.name}" with a different VAT rate come to more than this price. Ask a higher price, or lower the parts of the plan.`,
    );
  const [, ...partsMinor] = roundKeepingTotal(exactly(plan, priceMinor, places)).partsMinor;
  return plan.parts.map(({ label, taxRateId }, i) => ({ label, taxRateId, grossMinor: partsMinor[i] ?? 0 }));
}

/** Whether the parts of a price are no more than it. */
export function partsFit(plan: Parted, priceMinor: number, places: number): boolean {
  return exactly(plan, priceMinor, places).every((part) => !part.isNegative());
}

type Parted = Pick<Plan, 'name' | 'parts'>;

/** The rest of the price, and its parts. */
function exactly({ parts }: Parted, priceMinor: number, places: number): Decimal[] {
  const exact = parts.map(({ sharePercent, amountMinor }) =>
    sharePercent === null
      ? new Decimal(amountMinor ?? 0).times(places)
      : new Decimal(sharePercent).times(priceMinor).div(100),
  );
  return [exact.reduce((left, part) => left.minus(part), new Decimal(priceMinor)), ...exact];
}
