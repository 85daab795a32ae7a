import { Decimal } from '../../trade/money/money.js';
import type { TaxTreatment } from '../../trade/money/tax.js';
import type { CostLine } from '../../trade/pricing/course-price.js';
import { blockedPercent, inputVatLines } from '../../trade/pricing/input-vat.js';
import type { Course } from '../courses/contract.js';
import type { Studio } from '../settings/contract.js';
import type { Usage } from './materials.js';
import type { PlanTaxPart } from './price-terms.js';

/** How a price is taxed: its parts, and the rest of it. */
type Taxed = { parts: readonly PlanTaxPart[]; rest: TaxTreatment; course: Course | null };

/**
 * The VAT in the cost lines of a plan that its price gives no right to deduct. A studio that is not registered deducts nothing: it
 * enters what it pays, VAT and all, and has no such line.
 */
export function unreclaimedVat(
  { parts, rest, course }: Taxed,
  studio: Studio,
  lines: readonly CostLine[],
  usages: readonly Usage[],
): CostLine[] {
  if (studio.vatNumber === null) return [];
  const supplied = parts.map(({ sharePercent, amountMinor, tax: { kind } }) => ({
    ...{ kind, sharePercent: sharePercent ?? shareOf(amountMinor ?? 0, course) },
  }));
  const own = new Map(usages.map(({ material }) => [material.id, material.inputVatPercent]));
  return inputVatLines(
    lines,
    (line) => (line.kind === 'material' ? own.get(line.materialId) : null) ?? studio.inputVatPercent,
    blockedPercent(rest.kind, supplied),
  );
}

const SHARE_DECIMALS = 6;

/** A fixed sum as a share of what the course is sold at; before it has a price, nobody knows, and it counts as the rest does. */
const shareOf = (amountMinor: number, course: Course | null): string =>
  course === null || course.priceMinor === 0
    ? '0'
    : Decimal.min(100, new Decimal(amountMinor).times(100).div(course.priceMinor))
        .toDecimalPlaces(SHARE_DECIMALS)
        .toFixed();
