import { decimalIn } from '../maths/number.js';
import { Decimal } from '../money/money.js';
import type { TaxTreatment } from '../money/tax.js';
import type { CostLine } from './price-inputs.js';
import { asText } from './price-terms.js';

/** A part of a price and how it is taxed; what the parts leave of the whole is taxed as the rest. */
export interface SuppliedPart {
  /** decimal string, percent of the price */
  sharePercent: string;
  kind: TaxTreatment['kind'];
}

/**
 * How much of the VAT in what a supply uses can't be reclaimed, in percent of it: the part of its price that gives no right to deduct,
 * because it is exempt or outside the tax. A rate of nothing gives that right. What is used for both is divided by turnover
 * (Directive 2006/112/EC, articles 168, 173 and 174; from memory), here of this one supply and unrounded.
 *
 * @throws RangeError where the parts come to more than the whole
 */
export function blockedPercent(rest: TaxTreatment['kind'], parts: readonly SuppliedPart[]): Decimal {
  const shares = parts.map(({ sharePercent, kind }) => ({
    kind,
    share: decimalIn(sharePercent, 'The share of a part, in percent,', 0, 100),
  }));
  const left = shares.reduce((whole, { share }) => whole.minus(share), new Decimal(100));
  if (left.isNegative()) throw new RangeError('The parts of a price must not come to more than the whole.');
  return [...shares, { kind: rest, share: left }]
    .filter(({ kind }) => kind !== 'standard')
    .reduce((sum, { share }) => sum.plus(share), new Decimal(0));
}

const RATE_DECIMALS = 6;

/**
 * The VAT in cost lines that can't be reclaimed, as lines of their own, so that what was bought keeps the price it stands on the shelf
 * with: one for each student, one for the course. None where there is nothing of it.
 *
 * @param percentOf the VAT that a line's bills bear, decimal string in percent
 */
export function inputVatLines(
  lines: readonly CostLine[],
  percentOf: (line: CostLine) => string,
  blocked: Decimal,
): CostLine[] {
  const detail = `VAT on what is bought for ${blocked.toDecimalPlaces(1)}% of the price can’t be reclaimed. The rates are those of the settings and of each material; ask an accountant.`;
  return (['per-student', 'per-course', 'if-cancelled'] as const).flatMap((basis) => {
    const vat = lines
      .filter((line) => line.basis === basis)
      .reduce(
        (sum, line) => sum.plus(new Decimal(line.quantity).times(line.rateMinor).times(percentOf(line))),
        new Decimal(0),
      );
    const rateMinor = vat.times(blocked).div(10_000).toDecimalPlaces(RATE_DECIMALS);
    if (rateMinor.isZero()) return [];
    const unit = basis === 'per-student' ? 'student' : 'course';
    const line = {
      kind: 'input-vat' as const,
      key: `input-vat-${basis}`,
      label: 'VAT you can’t reclaim',
      basis,
      quantity: '1',
      unit,
    };
    return [{ ...line, rateMinor: asText(rateMinor), source: { kind: 'setting', detail } }];
  });
}
