import type { Transaction } from '../../database/transaction.js';
import { placesOf as placesInWords } from '../../mail/templates/place-cancelled.js';
import { refundByPlace } from '../../trade/money/cancelled-places.js';
import { creditAndRefund } from '../accounts/charges/charges.js';
import type { Course } from '../courses/contract.js';
import { hasBegun } from '../courses/service.js';
import type { PricedPlaces } from './cancelled-prices.js';
import type { Booking, Cancellation, NewCancellation } from './contract.js';
import { fillPlacesGivenUp, noteGivenUp } from './given-up-places.js';
import { writeConfirmation, writePlaceCancelled } from './letters.js';
import { cancelToOthers } from './letters-to-others.js';
import { getBooking } from './read-bookings.js';
import { decideRefund } from './refund-decision.js';
import { whoIsNext } from './waiting-list/entries.js';

/**
 * Gives some places of a booking up, while the others stay booked: what is unpaid for them is no longer asked for, and of what was
 * paid for them goes back what the policy says or the owner decides. What is kept stays paid, but for none of the places that stay.
 * Call it under the locks of the course and the charge.
 */
export async function cancelPlaces(
  tx: Transaction,
  now: Date,
  before: Booking,
  course: Course,
  wanted: NewCancellation,
): Promise<Cancellation> {
  const { id, chargeId } = before;
  const ids = new Set(wanted.attendeeIds);
  const leaving = before.attendees.filter(({ personId }) => ids.has(personId));
  const staying = before.attendees.filter(({ personId }) => !ids.has(personId));
  const decided = await decideRefund(tx, now, before, course, wanted, leaving);
  const { explanation, furtherMinor, priced, moneyMinor, ...refund } = decided;
  const { refundMinor, keptMinor } = refund;

  const names = (of: readonly { name: string }[]) => of.map(({ name }) => name);
  const who = `${placesInWords(names(leaving))} ${leaving.length === 1 ? 'is' : 'are'} cancelled. ${placesInWords(names(staying))} ${staying.length === 1 ? 'stays' : 'stay'} booked.`;
  const unpaidMinor = priced.priceMinor - priced.paidMinor;
  const quantity = leaving.length;
  const { reason, method } = wanted;
  const why = explanation === undefined ? who : `${who} ${explanation}`;
  await creditAndRefund(tx, now, chargeId, { unpaidMinor, refundMinor, method, reason, explanation: why, quantity });
  await movePlaces(tx, now, before, reason, refundByPlace(priced.places, refundMinor));
  await lowerDeposit(tx, before, priced, { refundMinor, keptMinor });
  // in a private session the group's place stays taken, whoever of it does not come
  if (before.state === 'confirmed' && !hasBegun(course, now) && course.kind !== 'private')
    await noteGivenUp(tx, course, id, { places: leaving.length, furtherMinor });

  const booking = await getBooking(tx, id);
  if (refundMinor === 0)
    await writePlaceCancelled(tx, now, booking, { leaving: names(leaving), paidMinor: priced.paidMinor, explanation });
  if (before.state === 'confirmed') await cancelToOthers(tx, now, { ...before, attendees: leaving }, course.title);
  if (before.state === 'provisional' && booking.state === 'confirmed' && !hasBegun(course, now)) {
    await writeConfirmation(tx, now, booking, course);
    await fillPlacesGivenUp(tx, now, course);
  }
  return {
    ...{ booking, ...refund, onVoucherMinor: refundMinor - moneyMinor, furtherMinor },
    places: refundByPlace(priced.places, refundMinor),
    next: await whoIsNext(tx, now, course),
  };
}

type Share = { personId: string; priceMinor: number; paidMinor: number; refundMinor: number; keptMinor: number };

/** From here on nothing counts them; what became of each is kept. */
async function movePlaces(
  tx: Transaction,
  cancelledAt: Date,
  { id: bookingId }: Booking,
  because: string,
  shares: readonly Share[],
): Promise<void> {
  const of = new Map(shares.map((share) => [share.personId, share]));
  const rows = await tx.place.findMany({ where: { bookingId, personId: { in: [...of.keys()] } } });
  await tx.cancelledPlace.createMany({
    data: rows.flatMap(({ id, personId, concessionId }) => {
      const share = of.get(personId);
      if (!share) return [];
      const { refundMinor, keptMinor } = share;
      const creditedMinor = share.priceMinor - share.paidMinor;
      return [{ id, bookingId, personId, concessionId, creditedMinor, refundMinor, keptMinor, cancelledAt, because }];
    }),
  });
  await tx.place.deleteMany({ where: { id: { in: rows.map(({ id }) => id) } } });
}

/**
 * The places that stay are confirmed by their own deposit. What is kept of the others does not count towards it, so it is asked for
 * besides; and who was confirmed stays so, however the price is shared.
 */
async function lowerDeposit(
  tx: Transaction,
  { id, depositMinor, paidMinor, state }: Booking,
  priced: PricedPlaces,
  { refundMinor, keptMinor }: { refundMinor: number; keptMinor: number },
): Promise<void> {
  const asked = Math.max(0, depositMinor - priced.depositMinor + keptMinor);
  const stays = state === 'confirmed' ? Math.min(asked, paidMinor - refundMinor) : asked;
  await tx.booking.update({ where: { id }, data: { depositMinor: stays } });
}
