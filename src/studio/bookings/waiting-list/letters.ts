import type { z } from 'zod';
import type { Transaction } from '../../../database/transaction.js';
import { moneyInText } from '../../../documents/words.js';
import type { OfferLapsedData, PlaceOfferedData } from '../../../mail/templates/place-offered.js';
import { localDay } from '../../../trade/calendar/calendar.js';
import type { Course } from '../../courses/contract.js';
import { soldOn } from '../../courses/selling.js';
import { momentInWords, sessionInWords } from '../../courses/session-dates.js';
import { notify } from '../../notices/service.js';
import { getStudio } from '../../settings/service.js';
import type { WaitingEntry } from './contract.js';

/** Tells somebody who waits that places are free, and until when they are kept. */
export async function writeOffer(tx: Transaction, now: Date, entry: WaitingEntry, course: Course): Promise<void> {
  const studio = await getStudio(tx);
  const data: z.output<typeof PlaceOfferedData> = {
    course: course.title,
    sessions: course.sessions.map((session) => `${sessionInWords(session, studio)}, ${session.roomName}`),
    places: entry.places,
    until: momentInWords(entry.offeredUntil ?? now, studio),
    price: moneyInText(studio)(soldOn(course, localDay(now, studio.timeZone)).priceMinor),
  };
  await notify(tx, now, { personId: entry.personId, occasion: 'placeOffered', data });
}

/** Tells somebody that what was kept for them no longer is. */
export async function writeOfferLapsed(tx: Transaction, now: Date, entry: WaitingEntry, course: Course): Promise<void> {
  const until = momentInWords(entry.offeredUntil ?? now, await getStudio(tx));
  const data: z.output<typeof OfferLapsedData> = { course: course.title, places: entry.places, until };
  await notify(tx, now, { personId: entry.personId, occasion: 'offerLapsed', data });
}
