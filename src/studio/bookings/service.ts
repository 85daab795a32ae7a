import type { Transaction } from '../../database/transaction.js';
import type { Booking, NewBooking } from './contract.js';
import { fillPlacesGivenUp } from './given-up-places.js';
import { writeBookingLetter } from './letters.js';
import { takePlaces } from './take-places.js';

export { cancelBooking } from './cancellation.js';
export { listRefundsDue, payFurtherRefund } from './further-refund.js';
export { payForBookings } from './payment.js';
export { getBooking, listBookingsOf } from './read-bookings.js';

/** Books places on a course, holds them for their deposit and tells the payer. */
export async function bookPlaces(tx: Transaction, now: Date, courseId: string, wanted: NewBooking): Promise<Booking> {
  const { booking, course, studio, hasGivenUp, included } = await takePlaces(tx, now, courseId, wanted);
  await writeBookingLetter(tx, now, booking, course, studio, included);
  if (booking.state === 'confirmed' && hasGivenUp) await fillPlacesGivenUp(tx, now, course);
  return booking;
}
