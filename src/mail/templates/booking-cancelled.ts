import { z } from 'zod';
import { type Correspondents, type Letter, letterText } from './letter.js';

/** What is frozen of a booking that was cancelled without money going back. */
export const BookingCancelledData = z.object({
  /** the course with its days and places */
  booking: z.string(),
  /** null where nothing was paid */
  paid: z.string().nullable(),
  /** why none of it goes back, and what may follow; null where there is nothing to say */
  explanation: z.string().nullable(),
});

/** Says that a booking is cancelled and nothing is asked for it any more; where something was paid, why none of it goes back. */
export function bookingCancelledLetter(
  { booking, paid, explanation }: z.output<typeof BookingCancelledData>,
  correspondents: Correspondents,
): Letter {
  return letterText(correspondents, `Cancelled: ${booking}`, [
    `Your booking is cancelled: ${booking}.`,
    paid === null
      ? 'There is nothing to pay.'
      : `The ${paid} that you paid is not refunded, and there is nothing more to pay.`,
    explanation,
    'If this is not what you expected, just reply to this email.',
  ]);
}
