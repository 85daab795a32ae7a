import { z } from 'zod';
import { type Correspondents, type Letter, letterText } from './letter.js';
import { placesSentence } from './visit.js';

/** What is frozen of a booking whose deposit did not come in time. */
export const HoldLapsedData = z.object({
  course: z.string(),
  attendees: z.array(z.string()),
  heldUntil: z.string(),
  deposit: z.string(),
});

/** Says that a place is no longer held. It can cross with the money, and says so. */
export function holdLapsedLetter(data: z.output<typeof HoldLapsedData>, correspondents: Correspondents): Letter {
  const { course, heldUntil, deposit } = data;
  const [places, are] = [placesSentence(data), data.attendees.length > 1 ? 'are' : 'is'];
  return letterText(correspondents, `No longer held: ${places} on ${course}`, [
    `We held ${places} on ${course} until ${heldUntil}, and the deposit of ${deposit} had not reached us by then. So ${places} ${are} no longer held, and your booking is cancelled. There is nothing to pay.`,
    'If you have paid in the meantime, or would still like to come, just reply to this email: we’ll see what we can do.',
  ]);
}
