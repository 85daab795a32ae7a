import type { Transaction } from '../../../database/transaction.js';
import { Problem } from '../../../problems.js';
import { lockCourse } from '../../courses/service.js';
import { momentInWords } from '../../courses/session-dates.js';
import { getStudio } from '../../settings/service.js';
import type { NewBooking } from '../contract.js';
import { bookPlaces } from '../service.js';
import type { Acceptance } from './contract.js';
import { getEntry } from './entries.js';
import { refuseEnded } from './offers.js';

/**
 * Books what was offered to somebody on the waiting list, for those who come; places of the offer that nobody takes are free again. An
 * offer is accepted once, and not after its deadline.
 */
export async function acceptOffer(tx: Transaction, now: Date, id: string, wanted: NewBooking): Promise<Acceptance> {
  const { courseId } = await getEntry(tx, id);
  await lockCourse(tx, courseId);
  const entry = await getEntry(tx, id);
  refuseEnded(entry);
  const { personName, offeredUntil, places } = entry;
  if (offeredUntil === null)
    throw new Problem('no-offer', `${personName} has no offer yet. Offer a place first, or book one.`);
  if (new Date(offeredUntil) <= now) {
    const until = momentInWords(offeredUntil, await getStudio(tx));
    throw new Problem('no-offer', `The offer to ${personName} ended on ${until}. Book a place if one is left.`);
  }
  if (wanted.attendeeIds.length > places)
    throw new Problem(
      'course-full',
      `Only ${places} ${places === 1 ? 'place was' : 'places were'} offered to ${personName}. Book for fewer people.`,
      { placesLeft: places },
    );
  await tx.waitingEntry.update({ where: { id }, data: { endedAt: now, ended: 'booked' } });
  const booking = await bookPlaces(tx, now, courseId, wanted);
  await tx.waitingEntry.update({ where: { id }, data: { bookingId: booking.id } });
  return { entry: await getEntry(tx, id), booking };
}
