import type { Transaction } from '../../database/transaction.js';
import { Problem } from '../../problems.js';
import type { NewExtraPlace } from './change-contract.js';
import { changeBenches, type Member, noteChange, refuseCompleted } from './changes.js';
import { type Course, PLACES_MAX } from './contract.js';
import { countTaken } from './queries.js';
import { getChangedCourse, lockCourse } from './service.js';

/**
 * Gives a course that is full one place more than was planned, because the owner says so and why: nothing else goes beyond its places. A
 * session still has no more people than its room has benches.
 */
export async function addExtraPlace(
  tx: Transaction,
  now: Date,
  member: Member,
  courseId: string,
  { reason }: NewExtraPlace,
): Promise<Course> {
  const course = await lockCourse(tx, courseId);
  refuseCompleted(course);
  if (course.kind === 'private')
    throw new Problem('places-left', 'A private session is for one group. How many come is told on its booking.');
  const placesLeft = course.places - (await countTaken(tx, courseId));
  if (placesLeft > 0)
    throw new Problem('places-left', 'There are places left. Book one of them instead.', { placesLeft });
  const places = course.places + 1;
  if (places > PLACES_MAX) throw new Problem('course-full', `A course has at most ${PLACES_MAX} places.`);
  await changeBenches(tx, now, course, places);
  await tx.course.update({ where: { id: courseId }, data: { places } });
  await noteChange(tx, now, member, courseId, `One more place, ${places} in all: ${reason}`);
  return getChangedCourse(tx, courseId);
}
