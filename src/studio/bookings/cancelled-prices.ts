import type { Transaction } from '../../database/transaction.js';
import { type CancelledShare, paidByPlace } from '../../trade/money/cancelled-places.js';
import { amountMinor } from '../../trade/money/money.js';
import type { Course } from '../courses/contract.js';
import type { Booking } from './contract.js';

type Named = { personId: string; name: string };

/** Places of a booking with what each costs and what of it is paid; and what was kept of others that were cancelled before. */
export type PricedPlaces = {
  places: (Named & CancelledShare)[];
  priceMinor: number;
  paidMinor: number;
  /** of their deposit, what no longer has to be paid */
  depositMinor: number;
};

/**
 * What these places of a booking cost, and what of that is paid. What was kept of places that were cancelled before pays for none of
 * them. Call it under the charge's lock.
 */
export async function pricePlaces(
  tx: Transaction,
  { id: bookingId, paidMinor, owedMinor, attendees, unnamed }: Booking,
  course: Course,
  wanted: readonly Named[],
): Promise<PricedPlaces> {
  const paidHereMinor = Math.max(0, paidMinor - (await keptBefore(tx, bookingId)));
  const askedMinor = paidHereMinor + owedMinor;
  const rows = await tx.place.findMany({
    where: { bookingId },
    select: { personId: true, priceMinor: true, depositMinor: true },
  });
  const of = new Map(rows.map((row) => [row.personId, row]));
  const prices =
    course.kind === 'private'
      ? extraPeople(course, attendees.length + unnamed, wanted.length)
      : wanted.map(({ personId }) => of.get(personId)?.priceMinor ?? 0);
  const priceMinor = prices.reduce((sum, price) => sum + price, 0);
  const isAll = wanted.length === attendees.length;
  const shares = paidByPlace(paidHereMinor, prices, isAll ? 0 : Math.max(0, askedMinor - priceMinor));
  const places = wanted.map(({ personId, name }, i) => ({
    personId,
    name,
    ...(shares[i] ?? { priceMinor: 0, paidMinor: 0 }),
  }));
  const sharedMinor = places.reduce((sum, place) => sum + place.paidMinor, 0);
  return {
    places,
    priceMinor: isAll ? askedMinor : priceMinor,
    paidMinor: isAll ? paidHereMinor : sharedMinor,
    depositMinor: wanted.reduce((sum, { personId }) => sum + (of.get(personId)?.depositMinor ?? 0), 0),
  };
}

/** In a private session only those beyond the group cost something of their own. */
function extraPeople({ groupOf, perHeadAboveMinor }: Course, coming: number, leaving: number): number[] {
  const extra = Math.min(leaving, Math.max(0, coming - (groupOf ?? 0)));
  return Array.from({ length: leaving }, (_, i) => (i < extra ? amountMinor(1, String(perHeadAboveMinor ?? 0)) : 0));
}

async function keptBefore(tx: Transaction, bookingId: string): Promise<number> {
  const { _sum: kept } = await tx.cancelledPlace.aggregate({ where: { bookingId }, _sum: { keptMinor: true } });
  if (!kept.keptMinor) return 0;
  const { _sum: refunded } = await tx.placeRefill.aggregate({
    where: { bookingId, refund: { isNot: null } },
    _sum: { amountMinor: true },
  });
  return kept.keptMinor - (refunded.amountMinor ?? 0);
}
