import { Decimal, roundHalfUp } from './money.js';
import { decimalIn, wholeIn } from './number.js';

/** So many whole days before the start, or more, this part is refunded. Below the last tier nothing is. */
export type Tier = { daysBefore: number; refundPercent: string };

export type Cancelling = {
  paidMinor: number;
  /** whole days from cancelling to the start; negative once the course has begun */
  daysBefore: number;
  tiers: readonly Tier[];
  /** somebody else took the place, or the course began full */
  refilled: boolean;
  refilledFeeMinor: number;
};

/** because: a sentence for the person who cancels. */
export type Refund = { refundMinor: number; keptMinor: number; because: string };

/**
 * What goes back when a place is given up: by tier; or, where the place was filled again, all less a fee, if that is
 * more. After the start it is the owner who decides, so that nothing goes back by rule.
 *
 * @throws RangeError on amounts that are not whole, or tiers that would give less back for earlier notice
 */
export function refundMinor(place: Cancelling): Refund {
  const paid = wholeIn(place.paidMinor, 'What was paid, in minor units,', 0, Number.MAX_SAFE_INTEGER);
  const fee = wholeIn(place.refilledFeeMinor, 'The fee for a place filled again', 0, Number.MAX_SAFE_INTEGER);
  const days = wholeIn(place.daysBefore, 'The days before the start', -100_000, 100_000);
  const tiers = inOrder(place.tiers);
  if (days < 0) return refund(paid, 0, 'The course has begun: the owner decides, and gives a reason.');

  const tier = tiers.find(({ daysBefore }) => days >= daysBefore);
  const byTier = tier ? roundHalfUp(new Decimal(paid).times(tier.refundPercent).div(100)) : 0;
  const byRefill = Math.max(0, paid - fee);
  if (place.refilled && byRefill > byTier) {
    return refund(paid, byRefill, 'The place was filled again: all is refunded, less the fee for that.');
  }
  const notice = days === 1 ? '1 day' : `${days} days`;
  const because = tier
    ? `Cancelled ${notice} before the start: ${tier.refundPercent} % is refunded from ${tier.daysBefore} days on.`
    : `Cancelled ${notice} before the start: too late for a refund.`;
  return refund(paid, byTier, because);
}

function refund(paidMinor: number, backMinor: number, because: string): Refund {
  return { refundMinor: backMinor, keptMinor: paidMinor - backMinor, because };
}

function inOrder(tiers: readonly Tier[]): Tier[] {
  const ordered = [...tiers].sort((a, b) => b.daysBefore - a.daysBefore);
  for (const [i, tier] of ordered.entries()) {
    wholeIn(tier.daysBefore, 'The days of a refund tier', 0, 3650);
    const percent = decimalIn(tier.refundPercent, 'The refund of a tier in percent', 0, 100);
    const earlier = ordered[i - 1];
    if (earlier?.daysBefore === tier.daysBefore) {
      throw new RangeError(`Two refund tiers begin ${tier.daysBefore} days before the start. Keep one.`);
    }
    if (earlier && percent.gt(earlier.refundPercent)) {
      throw new RangeError('Whoever cancels earlier must not get less back. Mend the refund tiers.');
    }
  }
  return ordered;
}
