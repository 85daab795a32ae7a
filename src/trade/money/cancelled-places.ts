import { splitExactly } from './money.js';

/** What becomes of one place: what it cost, its part of what was paid, and what of that goes back or is kept. */
export type CancelledShare = { priceMinor: number; paidMinor: number };

/**
 * What was paid of places that are cancelled while others of their booking stay. A payment is for all places of a booking, so each is
 * paid as far as the whole is: what was paid is shared by price, to the penny, and no place has more than it costs.
 *
 * @param paidMinor    what was paid for all of them
 * @param pricesMinor  what each place that is cancelled costs
 * @param stayingMinor what all others cost together
 */
export function paidByPlace(paidMinor: number, pricesMinor: readonly number[], stayingMinor: number): CancelledShare[] {
  const weights = [...pricesMinor, stayingMinor];
  const shares = weights.some((weight) => weight > 0) ? splitExactly(paidMinor, weights) : [];
  return pricesMinor.map((priceMinor, i) => ({ priceMinor, paidMinor: shares[i] ?? 0 }));
}

/** A refund of several places by place: each has its part by what was paid for it, to the penny. */
export function refundByPlace<T extends CancelledShare>(
  places: readonly T[],
  refundMinor: number,
): (T & { refundMinor: number; keptMinor: number })[] {
  const isPaid = places.some(({ paidMinor }) => paidMinor > 0);
  const parts = isPaid
    ? splitExactly(
        refundMinor,
        places.map((place) => place.paidMinor),
      )
    : [];
  return places.map((place, i) => ({
    ...place,
    refundMinor: parts[i] ?? 0,
    keptMinor: place.paidMinor - (parts[i] ?? 0),
  }));
}
