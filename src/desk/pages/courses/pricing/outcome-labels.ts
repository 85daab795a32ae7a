import { Decimal } from '../../../../trade/money/money.js';
import type { PriceInputs } from '../../../../trade/pricing/course-price.js';
import type { Words } from './labels';

type Money = Words['money'];

/**
 * "it leaves £40.00", "it pays your time £12.00 short" or, where not even the costs come in, "it loses £5.00 before your time is
 * paid": to be paid less than one's hour is worth is not to lose money.
 *
 * @param resultMinor     what is left when the owner's time is paid: an exact decimal string
 * @param beforeWageMinor ... before it is paid
 */
export function leaves(resultMinor: string, beforeWageMinor: string, money: Money): string {
  const [result, before] = [new Decimal(resultMinor), new Decimal(beforeWageMinor)];
  if (result.gte(0)) return `it leaves ${money(resultMinor)}`;
  if (before.gte(0)) return `it pays your time ${money(result.abs().toFixed())} short`;
  return `it loses ${money(before.abs().toFixed())} before your time is paid`;
}

/** The surplus that is wanted, and how its sum comes about. */
export function targetSurplusInWords(
  { targetSurplusMinor, surplusPerHour }: Pick<PriceInputs, 'targetSurplusMinor' | 'surplusPerHour'>,
  money: Money,
): string {
  const sum = `the surplus of ${money(targetSurplusMinor)} that you want`;
  if (!surplusPerHour) return sum;
  const hours = new Decimal(surplusPerHour.teachingHours).toDecimalPlaces(2).toFixed();
  return `${sum} (${money(surplusPerHour.rateMinor)} for each of ${hours} hours of teaching)`;
}
