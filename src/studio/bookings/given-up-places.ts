import type { Transaction } from '../../database/transaction.js';
import { newId } from '../../http/ids.js';
import { partFilledMinor, placesFilledAgain } from '../../trade/money/refilled-places.js';
import { getChargeStates } from '../accounts/queries.js';
import type { Course } from '../courses/contract.js';
import { lockCourse } from '../courses/service.js';
import { writeFilledAgain } from './letters.js';

/**
 * Notes what a booking that was confirmed gives up, after all that were given up before: these places may be filled again. Call it
 * under the course's lock.
 *
 * @param places       how many; a private session is one
 * @param furtherMinor what goes back besides once all of them are
 */
export async function noteGivenUp(
  tx: Transaction,
  { id: courseId }: Course,
  bookingId: string,
  { places, furtherMinor }: { places: number; furtherMinor: number },
): Promise<void> {
  const ordinal = (await tx.givenUp.count({ where: { courseId } })) + 1;
  await tx.givenUp.create({ data: { id: newId(), bookingId, courseId, ordinal, places, furtherMinor } });
}

/**
 * Looks whether a place that somebody gave up is filled again, now that one more is confirmed. A place that is only held for its
 * deposit fills none: it may be free again tomorrow. Call it under the course's lock.
 */
export async function fillPlacesGivenUp(tx: Transaction, now: Date, course: Course): Promise<void> {
  if ((await tx.givenUp.count({ where: { courseId: course.id } })) === 0) return;
  await fill(tx, now, course, await placesTaken(tx, course, ({ confirmed, here }) => confirmed && here));
}

/**
 * Notes with how many places taken a course began, and fills again what was given up, for the last time. Whoever had a place as it
 * began counts, paid or not. A second time changes nothing.
 */
export async function noteBeginning(tx: Transaction, now: Date, courseId: string): Promise<void> {
  const course = await lockCourse(tx, courseId);
  if (course.cancelled) return; // nothing fills a place of a course that does not take place
  const begins = new Date(course.sessions[0]?.startsAt ?? now);
  if (begins > now || (await tx.courseBeginning.count({ where: { courseId } })) > 0) return;
  const taken = await placesTaken(
    tx,
    course,
    ({ here, confirmed, heldUntil, cancelledAt }) =>
      (here && (confirmed || heldUntil >= begins)) || (cancelledAt !== null && cancelledAt >= begins),
  );
  const cancelledSince =
    course.kind === 'private' // its group stays, whoever of it does not come
      ? 0
      : await tx.cancelledPlace.count({ where: { booking: { courseId }, cancelledAt: { gte: begins } } });
  const all = taken + cancelledSince;
  await tx.courseBeginning.create({ data: { courseId, taken: all, notedAt: now } });
  await fill(tx, now, course, all);
}

/** Courses that have begun, and on which something was given up that is not judged for the last time. */
export async function listBegunCourses(tx: Transaction, now: Date): Promise<string[]> {
  const rows = await tx.course.findMany({
    where: {
      givenUps: { some: {} },
      beginning: null,
      cancelledAt: null,
      sessions: { some: { startsAt: { lte: now }, cancelledAt: null } },
    },
    orderBy: { id: 'asc' },
    select: { id: true },
  });
  return rows.map(({ id }) => id);
}

type Taking = { here: boolean; confirmed: boolean; heldUntil: Date; cancelledAt: Date | null };

async function placesTaken(tx: Transaction, course: Course, counts: (taking: Taking) => boolean): Promise<number> {
  const rows = await tx.booking.findMany({
    where: { courseId: course.id },
    select: {
      ...{ chargeId: true, depositMinor: true, heldUntil: true, cancelledAt: true },
      places: { select: { id: true } },
    },
  });
  const states = await getChargeStates(
    tx,
    rows.map(({ chargeId }) => chargeId),
  );
  return rows.reduce((sum, { chargeId, depositMinor, heldUntil, cancelledAt, places }) => {
    const confirmed = (states.get(chargeId)?.paidMinor ?? 0) >= depositMinor;
    const counted = counts({ here: cancelledAt === null, confirmed, heldUntil, cancelledAt });
    return sum + (counted ? placesOf(course, places.length) : 0);
  }, 0);
}

/** A private session is taken by one group, however many they are. */
export const placesOf = ({ kind }: Course, attendees: number) => (kind === 'private' ? 1 : attendees);
const capacityOf = ({ kind, places }: Course) => (kind === 'private' ? 1 : places);

async function fill(tx: Transaction, now: Date, course: Course, taken: number): Promise<void> {
  const rows = await tx.givenUp.findMany({
    where: { courseId: course.id },
    include: { refills: true },
    orderBy: { ordinal: 'asc' },
  });
  const filled = placesFilledAgain(
    capacityOf(course),
    taken,
    rows.map(({ places }) => places),
  );
  for (const [i, { id: givenUpId, bookingId, places, furtherMinor, refills }] of rows.entries()) {
    const before = refills.reduce((sum, refill) => sum + refill.places, 0);
    const more = (filled[i] ?? 0) - before;
    if (more <= 0) continue; // what was filled once stays so
    const dueBefore = refills.reduce((sum, refill) => sum + refill.amountMinor, 0);
    const amountMinor = partFilledMinor(furtherMinor, before + more, places) - dueBefore;
    const noticeId =
      amountMinor === 0 ? null : await writeFilledAgain(tx, now, bookingId, { filled: more, places, amountMinor });
    await tx.placeRefill.create({
      data: { id: newId(), bookingId, givenUpId, places: more, amountMinor, filledAt: now, noticeId },
    });
  }
}
