import { z } from 'zod';
import { type Correspondents, type Letter, letterText } from './letter.js';

/** What is frozen when places that somebody gave up are filled again. */
export const PlaceFilledData = z.object({
  /** the course with its days and places */
  booking: z.string(),
  /** "Your place has", "One of your 2 places has" */
  places: z.string(),
  /** what goes back for them */
  amount: z.string(),
});

/** Says that a place that was given up is taken again, and what therefore goes back; the credit note follows when it does. */
export function placeFilledLetter(
  { booking, places, amount }: z.output<typeof PlaceFilledData>,
  correspondents: Correspondents,
): Letter {
  return letterText(correspondents, `A refund of ${amount} for ${booking}`, [
    `You cancelled your booking of ${booking}. ${places} now been filled again, so we owe you a further refund of ${amount}.`,
    'We’ll refund it the way you paid, and send you a credit note when we do. If that way no longer works for you, just reply to this email.',
  ]);
}
