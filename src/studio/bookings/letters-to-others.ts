import type { z } from 'zod';
import type { Transaction } from '../../database/transaction.js';
import type { BookingCancelledData } from '../../mail/templates/booking-cancelled.js';
import type { PlaceConfirmedData } from '../../mail/templates/place-confirmed.js';
import type { Visit } from '../../mail/templates/visit.js';
import type { Booking } from './contract.js';
import { tellOthers } from './sessions/concerned.js';

/** Tells who comes on somebody else's booking that they have a place, without sums: who pays has a letter of their own. */
export async function confirmToOthers(tx: Transaction, now: Date, booking: Booking, visit: Visit): Promise<void> {
  await tellOthers(
    tx,
    now,
    [booking],
    'placeConfirmed',
    (attendees): z.output<typeof PlaceConfirmedData> => ({
      ...{ ...visit, attendees, paid: null, balance: [], howToPay: null, refundTerms: null },
    }),
  );
}

/** Tells them that they have none any more. */
export async function cancelToOthers(
  tx: Transaction,
  now: Date,
  booking: Pick<Booking, 'id' | 'payerId' | 'attendees'>,
  title: string,
): Promise<void> {
  await tellOthers(
    tx,
    now,
    [booking],
    'bookingCancelled',
    (): z.output<typeof BookingCancelledData> => ({
      ...{ booking: title, paid: null, explanation: null },
    }),
  );
}
