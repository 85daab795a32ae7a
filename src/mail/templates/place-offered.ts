import { z } from 'zod';
import { type Correspondents, capital, indented, type Letter, letterText } from './letter.js';

/** What is frozen of an offer to somebody on the waiting list. */
export const PlaceOfferedData = z.object({
  course: z.string(),
  sessions: z.array(z.string()),
  places: z.number(),
  until: z.string(),
  /** of one place, at its full price */
  price: z.string(),
});

/** Offers a place that is free to who is next on the waiting list, and says until when it is kept for them. */
export function placeOfferedLetter(
  { course, sessions, places, until, price }: z.output<typeof PlaceOfferedData>,
  correspondents: Correspondents,
): Letter {
  const [are, it] = places === 1 ? ['has', 'it'] : ['have', 'them'];
  const { studio } = correspondents;
  return letterText(correspondents, `${capital(placesFree(places))} on ${course} for you, until ${until}`, [
    `Good news: ${placesFree(places)} on ${course} ${are} become free, and you are next on our waiting list.`,
    `We keep ${it} for you until ${until}. If you would like ${it}, just reply to this email by then, and say who is coming. After that we offer ${it} to the next person, and take you off the list.`,
    `When:\n${indented(sessions)}`,
    `Where:\n${indented([studio.name, ...studio.addressLines])}`,
    `The price is ${price}${places === 1 ? '' : ' a place'}. Once you have said yes, we’ll tell you how to pay.`,
    'If you can’t come, please tell us: the next person will be glad.',
  ]);
}

/** What is frozen of an offer that nobody answered. */
export const OfferLapsedData = z.object({ course: z.string(), places: z.number(), until: z.string() });

/** Says that an offer is over. It can cross with the answer, and says so. */
export function offerLapsedLetter(
  { course, places, until }: z.output<typeof OfferLapsedData>,
  correspondents: Correspondents,
): Letter {
  const it = places === 1 ? 'it' : 'them';
  return letterText(correspondents, `No longer kept for you: ${placesFree(places)} on ${course}`, [
    `We kept ${placesFree(places)} on ${course} for you until ${until}, and had not heard from you by then. So we no longer keep ${it}, and you are no longer on the waiting list. There is nothing to pay.`,
    'If you have replied in the meantime, or would like to wait for another place, just reply to this email.',
  ]);
}

const placesFree = (places: number) => (places === 1 ? 'a place' : `${places} places`);
