import { wholeIn } from '../maths/number.js';
import type { Decimal } from '../money/money.js';
import { MAX_MINOR } from '../money/money-limits.js';
import { fairPrice } from './fair-price.js';
import { type Lever, type LeverKey, leversOf } from './levers.js';
import type { PriceInputs } from './price-inputs.js';
import { asText, readTerms, rememberedEnrolment } from './price-terms.js';

/** The least that one lever by itself must move. Decimal strings in the lever's own unit; see `leversOf`. */
export interface CeilingChange {
  key: LeverKey;
  from: string;
  /** the nearest figure that suffices, to a step */
  to: string | 'never';
  step: string;
  /** how far it was tried */
  limit: string;
  /** |to - from| / from; null where it is never enough, or stands at nothing today */
  relativePart: string | null;
}

/**
 * The cheapest changes that bring the fair price to a ceiling or below it: each lever by itself, the least relative
 * change first, those that never suffice last.
 *
 * @param ceilingMinor whole minor units
 * @returns none where today's fair price is not above the ceiling
 * @throws RangeError with a sentence that says what to mend
 */
export function cheapestChanges(inputs: PriceInputs, ceilingMinor: number): CeilingChange[] {
  wholeIn(ceilingMinor, 'The most that a place may cost, in minor units,', 0, MAX_MINOR);
  const enrolment = rememberedEnrolment();
  const suffices = (changed: PriceInputs) => {
    const terms = readTerms(changed, enrolment);
    const { fairMinor } = fairPrice(terms);
    return fairMinor.lte(ceilingMinor) && fairMinor.gte(terms.takings.leastMinor);
  };
  if (suffices(inputs)) return [];
  return leversOf(inputs)
    .map((lever) => told(lever, nearest(lever, suffices)))
    .sort((a, b) => order(a) - order(b));
}

/** Never last; what has no relative change just before it. Sorting is stable, so that equals keep the levers' order. */
function order({ to, relativePart }: CeilingChange): number {
  if (to === 'never') return Number.MAX_VALUE;
  return relativePart === null ? Number.MAX_SAFE_INTEGER : Number(relativePart);
}

function told({ key, from, step, limit }: Lever, to: Decimal | null): CeilingChange {
  const relative = to === null || from.isZero() ? null : to.minus(from).abs().div(from);
  return {
    ...{ key, from: asText(from), to: to === null ? 'never' : asText(to) },
    ...{ step: asText(step), limit: asText(limit), relativePart: relative && asText(relative) },
  };
}

/** The nearest step that suffices. A steady lever is halved down to it; on any other a far step can undo a near one. */
function nearest({ from, limit, step, steady, set }: Lever, suffices: (changed: PriceInputs) => boolean) {
  const steps = limit.minus(from).abs().div(step).ceil().toNumber();
  const towards = step.times(limit.gt(from) ? 1 : -1);
  const at = (k: number) => (k === steps ? limit : from.plus(towards.times(k)));
  if (!steady) {
    for (let k = 1; k <= steps; k++) if (suffices(set(at(k)))) return at(k);
    return null;
  }
  if (!suffices(set(limit))) return null;
  let [short, enough] = [0, steps];
  while (enough - short > 1) {
    const middle = Math.floor((short + enough) / 2);
    if (suffices(set(at(middle)))) enough = middle;
    else short = middle;
  }
  return at(enough);
}
