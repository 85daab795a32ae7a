import { decimalIn, wholeIn } from '../maths/number.js';
import { Decimal, roundHalfUp } from './money.js';

/** So many whole days before the start, or more, this part is refunded. Below the last tier nothing is. */
export type RefundTier = { daysBefore: number; refundPercent: string };

export type CancellationTerms = {
  paidMinor: number;
  /** whole days from cancelling to the start; negative once the course has begun */
  daysBefore: number;
  tiers: readonly RefundTier[];
};

/** because: a sentence for the person who cancels. */
export type Refund = { refundMinor: number; keptMinor: number; because: string };

/**
 * What goes back, by tier, when a booking is cancelled. After the start it is the owner who decides, so that nothing goes back by rule.
 *
 * @throws RangeError on amounts that are not whole, or tiers that would give less back for earlier notice
 */
export function refundByTier(cancelling: CancellationTerms): Refund {
  const paid = wholeIn(cancelling.paidMinor, 'What was paid, in minor units,', 0, Number.MAX_SAFE_INTEGER);
  const days = wholeIn(cancelling.daysBefore, 'The days before the start', -100_000, 100_000);
  const tiers = inOrder(cancelling.tiers);
  if (days < 0) return refund(paid, 0, 'The course has started, so a refund is for the owner to decide.');

  const tier = tiers.find(({ daysBefore }) => days >= daysBefore);
  const backMinor = tier ? roundHalfUp(new Decimal(paid).times(tier.refundPercent).div(100)) : 0;
  const notice = `Cancelled ${inDays(days)} before the start`;
  if (!tier || Number(tier.refundPercent) === 0) return refund(paid, backMinor, `${notice}: too late for a refund.`);
  const from = tier.daysBefore === 0 ? 'until the start' : `with at least ${noticeOf(tier.daysBefore)}`;
  return refund(paid, backMinor, `${notice}: ${tier.refundPercent}% is refunded ${from}.`);
}

/**
 * What goes back besides, once all places of a cancelled booking are filled again: then all that was paid goes back, less a fee. A tier
 * that gave more is not taken back.
 *
 * @param keptMinor what was kept when it was cancelled
 * @param feeMinor  what the studio keeps for the trouble, once for a booking
 */
export function furtherRefundMinor(keptMinor: number, feeMinor: number): number {
  return Math.max(
    0,
    wholeIn(keptMinor, 'What was kept, in minor units,', 0, Number.MAX_SAFE_INTEGER) -
      wholeIn(feeMinor, 'The fee for a place filled again', 0, Number.MAX_SAFE_INTEGER),
  );
}

const inDays = (days: number) => (days === 1 ? '1 day' : `${days} days`);
const noticeOf = (days: number) => `${inDays(days)}${days === 1 ? '’s' : '’'} notice`;

function refund(paidMinor: number, backMinor: number, because: string): Refund {
  return { refundMinor: backMinor, keptMinor: paidMinor - backMinor, because };
}

function inOrder(tiers: readonly RefundTier[]): RefundTier[] {
  const ordered = [...tiers].sort((a, b) => b.daysBefore - a.daysBefore);
  for (const [i, tier] of ordered.entries()) {
    wholeIn(tier.daysBefore, 'The days of a refund tier', 0, 3650);
    const percent = decimalIn(tier.refundPercent, 'The refund of a tier in percent', 0, 100);
    const earlier = ordered[i - 1];
    if (earlier?.daysBefore === tier.daysBefore) {
      throw new RangeError(`Two refund tiers begin ${tier.daysBefore} days before the start. Keep one.`);
    }
    if (earlier && percent.gt(earlier.refundPercent)) {
      throw new RangeError('Anyone who cancels earlier must not get less back. Correct the refund tiers.');
    }
  }
  return ordered;
}
