import type { Transaction } from '../../database/transaction.js';
import type { CostLine } from '../../trade/course-price.js';
import { blockedPercent, inputVatLines, type SuppliedPart } from '../../trade/input-vat.js';
import { Decimal } from '../../trade/money.js';
import type { Course } from '../courses/contract.js';
import type { Plan } from '../courses/plan-contract.js';
import type { Studio } from '../settings/contract.js';
import { taxRate, treatment } from '../settings/service.js';
import { lineKey, type Usage } from './materials.js';

type Offer = { recipe: Plan; course: Course | null; taxRateId: string };

/**
 * The VAT in the cost lines of a plan that its price gives no right to deduct. A studio that is not registered deducts nothing: it
 * enters what it pays, VAT and all, and has no such line.
 */
export async function unreclaimedVat(
  tx: Transaction,
  { recipe, course, taxRateId }: Offer,
  home: Studio,
  lines: readonly CostLine[],
  usages: readonly Usage[],
): Promise<CostLine[]> {
  if (home.vatNumber === null) return [];
  const parts: SuppliedPart[] = [];
  for (const { taxRateId: partRateId, sharePercent, amountMinor } of recipe.parts)
    parts.push({
      sharePercent: sharePercent ?? shareOf(amountMinor ?? 0, course),
      kind: treatment(home, await taxRate(tx, partRateId)).kind,
    });
  const own = new Map(usages.map((usage) => [lineKey(usage), usage.material.inputVatPercent]));
  const blocked = blockedPercent(treatment(home, await taxRate(tx, taxRateId)).kind, parts);
  return inputVatLines(lines, ({ key }) => own.get(key) ?? home.inputVatPercent, blocked);
}

const SHARE_DECIMALS = 6;

/** A fixed sum as a share of what the course is sold at; before it has a price, nobody knows, and it counts as the rest does. */
const shareOf = (amountMinor: number, course: Course | null): string =>
  course === null || course.priceMinor === 0
    ? '0'
    : Decimal.min(100, new Decimal(amountMinor).times(100).div(course.priceMinor))
        .toDecimalPlaces(SHARE_DECIMALS)
        .toFixed();
