import type { Transaction } from '../../database/transaction.js';
import type { NewRemainingSessions } from './change-contract.js';
import { type Member, noteChange, refuseCompleted } from './changes.js';
import type { Course, Session } from './contract.js';
import { freeSessions } from './free-sessions.js';
import { getChangedCourse, lockCourse } from './service.js';
import { refuseTimes } from './session-times.js';

export type Remaining = {
  course: Course;
  /** those that are in another room now, before and after */
  elsewhere: { before: Session; after: Session }[];
};

/** Gives all sessions that have not begun one room and the same tutors. Each finds them free, or nothing is changed. */
export async function changeRemainingSessions(
  tx: Transaction,
  now: Date,
  member: Member,
  courseId: string,
  { roomId, tutorIds }: NewRemainingSessions,
): Promise<Remaining> {
  const course = await lockCourse(tx, courseId);
  refuseCompleted(course);
  const remaining = course.sessions.filter(({ startsAt }) => new Date(startsAt) > now);
  if (remaining.length === 0) refuseTimes('No session of this course is still to come.');
  const sessions = remaining.map(({ id, startsAt, endsAt, benches }) => ({
    ...{ sessionId: id, startsAt, endsAt, benches, roomId, tutorIds, staysThen: true },
  }));
  await freeSessions(tx, { sessions, places: course.places });
  const ids = remaining.map(({ id }) => id);
  await tx.sessionTutor.deleteMany({ where: { sessionId: { in: ids } } });
  await tx.session.updateMany({ where: { id: { in: ids } }, data: { roomId } });
  await tx.sessionTutor.createMany({
    data: remaining.flatMap(({ id: sessionId, startsAt, endsAt }) =>
      tutorIds.map((staffMemberId) => ({ sessionId, staffMemberId, startsAt, endsAt })),
    ),
  });
  const changed = await getChangedCourse(tx, courseId);
  const pairs = remaining.flatMap((before) => {
    const after = changed.sessions.find(({ id }) => id === before.id);
    return after ? [{ before, after }] : [];
  });
  const elsewhere = pairs.filter(({ before, after }) => before.roomId !== after.roomId);
  const [first] = pairs;
  const named = ({ tutors }: Session) => tutors.map(({ name }) => name).join(', ') || 'nobody';
  if (first && elsewhere.length > 0)
    await noteChange(tx, now, member, courseId, `All sessions to come are now in ${first.after.roomName}.`);
  if (first && pairs.some(({ before, after }) => named(before) !== named(after)))
    await noteChange(tx, now, member, courseId, `All sessions to come are taught by ${named(first.after)}.`);
  return { course: changed, elsewhere };
}
