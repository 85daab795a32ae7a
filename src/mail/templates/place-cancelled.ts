import { z } from 'zod';
import { type Correspondents, type Letter, letterText } from './letter.js';

/** What is frozen of places that were cancelled while others of their booking stay, without money going back. */
export const PlaceCancelledData = z.object({
  /** the course with its days and places, as it was booked */
  booking: z.string(),
  cancelled: z.array(z.string()),
  staying: z.array(z.string()),
  /** of what was paid, what was for the places cancelled; null where nothing was */
  paid: z.string().nullable(),
  /** why none of it goes back, and what may follow; null where there is nothing to say */
  explanation: z.string().nullable(),
  /** for the places that stay; null where all is paid */
  owed: z.string().nullable(),
  /** until when those are held, and for which deposit; null once they are confirmed */
  hold: z.object({ until: z.string(), deposit: z.string() }).nullable(),
});

/** Says which places of a booking are cancelled and which stay, and what is still to pay. */
export function placeCancelledLetter(
  { booking, cancelled, staying, paid, explanation, owed, hold }: z.output<typeof PlaceCancelledData>,
  correspondents: Correspondents,
): Letter {
  return letterText(correspondents, `Cancelled: ${placesOf(cancelled)}, ${booking}`, [
    `${placesOf(cancelled)} on this booking ${isOrAre(cancelled)} cancelled: ${booking}. ${placesOf(staying)} ${staying.length === 1 ? 'stays' : 'stay'} booked.`,
    paid === null ? null : `The ${paid} paid for what is cancelled is not refunded.`,
    explanation,
    hold === null
      ? null
      : `We hold ${placesOf(staying)} until ${hold.until}. To keep ${staying.length === 1 ? 'it' : 'them'}, please pay the deposit of ${hold.deposit} by then.`,
    owed === null ? 'There is nothing more to pay.' : `What is still to pay in all is ${owed}.`,
    'If this is not what you expected, just reply to this email.',
  ]);
}

/** "Ann Bell’s place", "the places of Ann Bell and Ben Bell": the same words begin a sentence. */
export function placesOf(names: readonly string[]): string {
  const [first = '', ...more] = names;
  if (more.length === 0) return `${first}’s place`;
  return `${[first, ...more.slice(0, -1)].join(', ')} and ${more.at(-1)}’s places`;
}

const isOrAre = (names: readonly string[]) => (names.length === 1 ? 'is' : 'are');
