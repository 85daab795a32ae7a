import type { Prisma } from '../../../database/generated/client.js';
import type { Transaction } from '../../../database/transaction.js';
import { newId } from '../../../http/ids.js';
import { Problem } from '../../../problems.js';
import type { Course } from '../../courses/contract.js';
import { countTaken } from '../../courses/queries.js';
import { getCourse, hasBegun, lockCourse, refuseCancelled } from '../../courses/service.js';
import { getPerson } from '../../people/service.js';
import type { Cancellation } from '../contract.js';
import { releaseExpired } from '../holds.js';
import type { NewWaitingEntry, WaitingEntry, WaitingList } from './contract.js';

type Row = Prisma.WaitingEntryGetPayload<{ include: { person: true } }>;

/** Puts somebody on the waiting list of a course, after all who wait already. */
export async function addToWaitingList(
  tx: Transaction,
  now: Date,
  courseId: string,
  { personId, places, note }: NewWaitingEntry,
): Promise<WaitingEntry> {
  const person = await getPerson(tx, personId);
  const course = await lockCourse(tx, courseId);
  refuseOver(course, now);
  if (course.kind === 'private')
    throw new Problem('course-full', 'A private session is for one group, so nobody waits for it. Plan another one.');
  if (places > course.places)
    throw new Problem('course-full', `The course has ${course.places} places in all. Ask for fewer.`);
  await releaseExpired(tx, now, courseId);
  const booked = await tx.place.findFirst({ where: { personId, booking: { courseId, cancelledAt: null } } });
  if (booked)
    throw new Problem('already-there', `${person.name} has a place on this course already.`, {
      bookingId: booked.bookingId,
    });
  const open = await tx.waitingEntry.findMany({ where: { courseId, endedAt: null } });
  if (open.some((entry) => entry.personId === personId))
    throw new Problem('already-waiting', `${person.name} is on the waiting list of this course already.`);
  const placesLeft = course.places - (await countTaken(tx, courseId));
  if (places <= placesLeft && !open.some((entry) => entry.offeredAt === null && entry.places <= placesLeft))
    throw new Problem('places-left', 'There are enough places left, and nobody waits for them. Book a place instead.', {
      placesLeft,
    });
  const id = newId();
  await tx.waitingEntry.create({ data: { id, courseId, personId, places, note, since: now } });
  return getEntry(tx, id);
}

/** The waiting list of a course: who waits, who has waited, and whom a place would be offered to next. */
export async function getWaitingList(tx: Transaction, courseId: string): Promise<WaitingList> {
  const course = await getCourse(tx, courseId);
  const rows = await tx.waitingEntry.findMany({
    where: { courseId },
    include: { person: true },
    orderBy: [{ since: 'asc' }, { id: 'asc' }],
  });
  const entries = rows.map(toEntry);
  const placesLeft = course.kind === 'private' ? 0 : course.places - (await countTaken(tx, courseId));
  const waiting = entries.filter(({ ended }) => ended === null);
  const ended = entries
    .filter((entry) => entry.ended !== null)
    .sort((a, b) => ((a.endedAt ?? '') < (b.endedAt ?? '') ? 1 : -1));
  return { courseId, placesLeft, waiting, ended, nextId: firstThatFits(waiting, placesLeft)?.id ?? null };
}

/** Who is next for the places that are left, as somebody sees who has just freed one. Judge it under the course's lock. */
export async function findNext(tx: Transaction, { id: courseId, places, kind }: Course): Promise<WaitingEntry | null> {
  if (kind === 'private') return null;
  const rows = await tx.waitingEntry.findMany({
    where: { courseId, endedAt: null, offeredAt: null },
    include: { person: true },
    orderBy: [{ since: 'asc' }, { id: 'asc' }],
  });
  if (rows.length === 0) return null;
  return firstThatFits(rows.map(toEntry), places - (await countTaken(tx, courseId))) ?? null;
}

/** The same, in a few words; nobody where the course has begun. */
export async function whoIsNext(tx: Transaction, now: Date, course: Course): Promise<Cancellation['next']> {
  if (hasBegun(course, now)) return null;
  const next = await findNext(tx, course);
  return next && { entryId: next.id, personId: next.personId, name: next.personName, places: next.places };
}

const firstThatFits = (entries: readonly WaitingEntry[], placesLeft: number) =>
  entries.find(({ offeredAt, places }) => offeredAt === null && places <= placesLeft);

export async function getEntry(tx: Transaction, id: string): Promise<WaitingEntry> {
  const row = await tx.waitingEntry.findUnique({ where: { id }, include: { person: true } });
  if (!row) throw new Problem('not-found', 'Nobody waits by this id. Look at the waiting list of the course.');
  return toEntry(row);
}

export function refuseOver(course: Course, now: Date): void {
  refuseCancelled(course);
  if (course.completedOn !== null || hasBegun(course, now))
    throw new Problem('course-over', 'The course has begun, so nobody can join it any more. Choose a later one.');
}

const toEntry = ({ id, courseId, personId, person, places, note, ended, bookingId, ...at }: Row): WaitingEntry => ({
  ...{ id, courseId, personId, personName: person.name, places, note, since: at.since.toISOString() },
  offeredAt: at.offeredAt?.toISOString() ?? null,
  offeredUntil: at.offeredUntil?.toISOString() ?? null,
  endedAt: at.endedAt?.toISOString() ?? null,
  ...{ ended, bookingId },
});
