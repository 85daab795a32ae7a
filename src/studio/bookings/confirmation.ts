import type { z } from 'zod';
import type { Transaction } from '../../database/transaction.js';
import { dateInWords, moneyIn } from '../../documents/words.js';
import type { BookingData } from '../../mail/templates/booking.js';
import { localDay } from '../../trade/calendar.js';
import type { Course } from '../courses/contract.js';
import { momentInWords, sessionInWords } from '../courses/words.js';
import { notify } from '../notices/service.js';
import type { Studio } from '../settings/contract.js';
import type { Booking } from './contract.js';

/** Tells the payer what was booked, for how much, and until when it is held for its deposit: in words, frozen as it was booked. */
export async function confirm(
  tx: Transaction,
  now: Date,
  booking: Booking,
  course: Course,
  home: Studio,
): Promise<void> {
  const money = moneyIn(home);
  const today = localDay(now, home.timeZone);
  const later = booking.instalments.filter(({ dueOn }) => dueOn > today);
  const nowMinor = booking.priceMinor - later.reduce((sum, { amountMinor }) => sum + amountMinor, 0);
  const data: z.output<typeof BookingData> = {
    course: course.title,
    sessions: course.sessions.map((session) => `${sessionInWords(session, home)}, ${session.roomName}`),
    attendees: booking.attendees.map(({ name }) => name),
    price: money(booking.priceMinor),
    deposit: booking.depositMinor > 0 ? money(booking.depositMinor) : null,
    heldUntil: booking.heldUntil === null ? null : momentInWords(booking.heldUntil, home),
    dueNow: nowMinor > booking.depositMinor ? money(nowMinor) : null,
    balance: later.map(({ amountMinor, dueOn }) => ({
      amount: money(amountMinor),
      by: dateInWords(dueOn, home.locale),
    })),
  };
  await notify(tx, now, { personId: booking.payerId, occasion: 'booking', data });
}
