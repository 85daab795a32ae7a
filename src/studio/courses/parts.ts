import { Problem } from '../../problems.js';
import { Decimal, roundTogether } from '../../trade/money.js';
import type { Plan } from './plan-contract.js';

/**
 * What of a price for so many places bears another VAT, in whole minor units: the shares and sums of its plan, rounded together with
 * the rest, so that nothing is lost between them.
 *
 * @throws Problem invalid-request where the parts would be more than the price
 */
export function partsOfPrice({ name, parts }: Pick<Plan, 'name' | 'parts'>, priceMinor: number, places: number) {
  const exact = parts.map(({ sharePercent, amountMinor }) =>
    sharePercent === null
      ? new Decimal(amountMinor ?? 0).times(places)
      : new Decimal(sharePercent).times(priceMinor).div(100),
  );
  const rest = exact.reduce((left, part) => left.minus(part), new Decimal(priceMinor));
  if (rest.isNegative())
    throw new Problem(
      'invalid-request',
      `What of the plan "${name}" bears another VAT comes to more than this price. Ask a higher price, or lower the parts of the plan.`,
    );
  const [, ...partsMinor] = roundTogether([rest, ...exact]).partsMinor;
  return parts.map(({ label, taxRateId }, i) => ({ label, taxRateId, grossMinor: partsMinor[i] ?? 0 }));
}
