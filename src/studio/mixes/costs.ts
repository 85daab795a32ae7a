import type { Transaction } from '../../database/transaction.js';
import { partsPerUnit } from '../../trade/materials/mix.js';
import { Decimal } from '../../trade/money/money.js';
import type { CostSource } from '../../trade/pricing/course-price.js';
import { getNextUnitCosts } from '../materials/service.js';
import type { Mix, MixCosts } from './contract.js';
import { getBatchCosts } from './queries.js';
import { getMix, listMixesMaking } from './service.js';

type UnitCost = { rateMinor: string; source: CostSource };

const RATE_DECIMALS = 12; // as many as a lot's

/**
 * What a unit of these materials will cost: by their latest lot, or, for a mix of which no batch was made yet, by what its parts will.
 *
 * @returns rateMinor per g, ml or piece, under the material's id; no entry where nobody paid for it, nor for one of its parts
 */
export async function getUnitCosts(tx: Transaction, materialIds: readonly string[]): Promise<Map<string, UnitCost>> {
  const costs = await getNextUnitCosts(tx, materialIds);
  const without = materialIds.filter((id) => !costs.has(id));
  const mixes = without.length === 0 ? [] : await listMixesMaking(tx, without);
  if (mixes.length === 0) return costs;
  const parts = new Set(mixes.flatMap((mix) => mix.parts.map(({ materialId }) => materialId)));
  const partCosts = await getUnitCosts(tx, [...parts]); // a mix within a mix is the last: it holds none
  for (const mix of mixes) {
    const rateMinor = mixedRate(mix, partCosts);
    if (rateMinor === null) continue;
    const detail = 'Mixed here: its parts by its recipe, each at its latest lot, carriage included.';
    costs.set(mix.product.id, { rateMinor, source: { kind: 'lot', detail } });
  }
  return costs;
}

/** Minor units per unit of what is mixed; null where a part has no price. */
function mixedRate(mix: Mix, partCosts: ReadonlyMap<string, UnitCost>): string | null {
  let rate = new Decimal(0);
  for (const [i, perUnit] of partsPerUnit(mix).entries()) {
    const cost = partCosts.get(mix.parts[i]?.materialId ?? '');
    if (!cost) return null;
    rate = rate.plus(new Decimal(cost.rateMinor).times(perUnit));
  }
  return rate.toDecimalPlaces(RATE_DECIMALS).toFixed();
}

/** What the parts will cost at their next purchase, and what each batch did cost. */
export async function getMixCosts(tx: Transaction, id: string): Promise<MixCosts> {
  const ids = (await getMix(tx, id)).parts.map(({ materialId }) => materialId);
  const rates = await getUnitCosts(tx, ids);
  return {
    parts: ids.map((materialId) => ({
      materialId,
      rateMinor: rates.get(materialId)?.rateMinor ?? null,
      detail: rates.get(materialId)?.source.detail ?? 'Nobody has paid for any of it yet. Receive a lot.',
    })),
    batches: await getBatchCosts(tx, id),
  };
}
