import type { Transaction } from '../../../database/transaction.js';
import { Problem } from '../../../problems.js';
import type { Course } from '../../courses/contract.js';
import { countTaken } from '../../courses/queries.js';
import { hasBegun, lockCourse } from '../../courses/service.js';
import { momentInWords } from '../../courses/session-dates.js';
import { getStudio } from '../../settings/service.js';
import { holdEnd } from '../hold-end.js';
import { releaseExpired } from '../holds.js';
import type { NewOffer, Removal, WaitingEntry } from './contract.js';
import { findNext, getEntry, refuseOver } from './entries.js';
import { writeOffer, writeOfferLapsed } from './letters.js';
import { listLapsedOffers } from './queries.js';

/**
 * Offers free places to the first on the waiting list for whom they are enough, with a letter, and keeps them until the deadline: as
 * long as this course's places are held, unless the owner says otherwise.
 */
export async function offerPlaces(
  tx: Transaction,
  now: Date,
  courseId: string,
  { until }: NewOffer,
): Promise<WaitingEntry> {
  const course = await lockCourse(tx, courseId);
  refuseOver(course, now);
  await releaseExpired(tx, now, courseId);
  await lapseOffers(tx, now, courseId);
  const next = await findNext(tx, course);
  if (!next) throw await nobodyToOffer(tx, course);
  return offerTo(
    tx,
    now,
    course,
    next,
    until === undefined ? holdEnd(course, now) : await deadline(tx, now, course, until),
  );
}

async function nobodyToOffer(tx: Transaction, course: Course): Promise<Problem> {
  const waiting = await tx.waitingEntry.count({ where: { courseId: course.id, endedAt: null, offeredAt: null } });
  if (waiting === 0) return new Problem('nobody-waits', 'Nobody on the waiting list is without an offer.');
  const placesLeft = course.places - (await countTaken(tx, course.id));
  return new Problem(
    'course-full',
    placesLeft > 0
      ? `Only ${placesLeft} ${placesLeft === 1 ? 'place is' : 'places are'} left, and everybody who waits would like more.`
      : 'The course is full. Offer a place once one is free.',
    { placesLeft },
  );
}

async function deadline(tx: Transaction, now: Date, { sessions }: Course, until: string): Promise<Date> {
  const end = new Date(until);
  const begins = new Date(sessions[0]?.startsAt ?? now);
  if (end > now && end <= begins) return end;
  const start = momentInWords(begins, await getStudio(tx));
  throw new Problem(
    'invalid-request',
    `The deadline must be later than now, and at the latest as the course starts, ${start}.`,
    {
      errors: [{ pointer: '#/until', detail: `must be later than now and at most ${start}` }],
    },
  );
}

async function offerTo(
  tx: Transaction,
  now: Date,
  course: Course,
  { id }: WaitingEntry,
  offeredUntil: Date,
): Promise<WaitingEntry> {
  await tx.waitingEntry.update({ where: { id }, data: { offeredAt: now, offeredUntil } });
  const entry = await getEntry(tx, id);
  await writeOffer(tx, now, entry, course);
  return entry;
}

/** What an offer that has ended frees is offered to the next, as long as the course has not begun. */
async function offerNext(tx: Transaction, now: Date, course: Course): Promise<WaitingEntry | null> {
  if (course.completedOn !== null || hasBegun(course, now)) return null;
  const next = await findNext(tx, course);
  return next && offerTo(tx, now, course, next, holdEnd(course, now));
}

/**
 * Ends the offers of a course that nobody answered in time, and offers their places to the next. An answer that comes at the same
 * moment either is first, and is booked, or finds no offer.
 *
 * @returns how many offers have ended
 */
export async function lapseOffers(tx: Transaction, now: Date, courseId: string): Promise<number> {
  if ((await listLapsedOffers(tx, now, courseId)).length === 0) return 0;
  const course = await lockCourse(tx, courseId);
  const lapsed = await listLapsedOffers(tx, now, courseId); // again, under the lock
  for (const { id } of lapsed) {
    await tx.waitingEntry.update({ where: { id }, data: { endedAt: now, ended: 'lapsed' } });
    await writeOfferLapsed(tx, now, await getEntry(tx, id), course);
  }
  // several small ones may make room for one who waits for more, so all end before any is offered on
  if (lapsed.length > 0) while (await offerNext(tx, now, course));
  return lapsed.length;
}

/** Takes somebody off the waiting list. Who has an offer declines it, and its places are offered to the next. */
export async function removeFromWaitingList(tx: Transaction, now: Date, id: string): Promise<Removal> {
  const { courseId } = await getEntry(tx, id);
  const course = await lockCourse(tx, courseId);
  const before = await getEntry(tx, id);
  refuseEnded(before);
  const isOffered = before.offeredAt !== null;
  await tx.waitingEntry.update({ where: { id }, data: { endedAt: now, ended: isOffered ? 'declined' : 'removed' } });
  const offered = isOffered ? await offerNext(tx, now, course) : null;
  return { entry: await getEntry(tx, id), offered };
}

const ENDS = {
  booked: 'has a place already',
  declined: 'declined the offer',
  lapsed: 'did not answer the offer in time',
  removed: 'was taken off the list',
  courseCancelled: 'waits no more, since the course is cancelled',
};

/** Who waits no more has no offer either. */
export function refuseEnded({ personName, ended }: WaitingEntry): void {
  if (ended !== null)
    throw new Problem('no-offer', `${personName} ${ENDS[ended]}, so nothing was changed. Look at the waiting list.`);
}
