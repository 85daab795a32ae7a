import type { Transaction } from '../../database/transaction.js';
import { newId } from '../../http/ids.js';
import { Problem } from '../../problems.js';
import { getStudio } from '../settings/service.js';
import type { NewSessionAdded } from './change-contract.js';
import { type Member, noteChange, refuseCompleted } from './changes.js';
import { noteClosedDay } from './closed-days.js';
import type { Course, Session } from './contract.js';
import { freeSessions } from './free-sessions.js';
import { refuseTooSoon } from './lead-times.js';
import { lockPlanForCourse } from './plans.js';
import { shiftSessions } from './queries.js';
import { getChangedCourse, lockCourse } from './service.js';
import { sessionInWords } from './session-dates.js';
import { refuseOver, refuseTimes, type Times, timesOf } from './session-times.js';

const SESSIONS_MAX = 60;

export type AddedSession = { course: Course; session: Session };

/** Adds a session to those of a course, in the order of time. Its tutors and its room are free then, or nothing is changed. */
export async function addSession(
  tx: Transaction,
  now: Date,
  member: Member,
  courseId: string,
  wanted: NewSessionAdded,
): Promise<AddedSession> {
  const course = await lockCourse(tx, courseId);
  refuseCompleted(course);
  const studio = await getStudio(tx);
  if (course.kind === 'openStudio')
    refuseTimes('Open studio is sold by the visit. Put another visit in the calendar, from its plan.');
  if (course.sessions.length + course.cancelledSessions.length >= SESSIONS_MAX)
    refuseTimes(`A course has at most ${SESSIONS_MAX} sessions. Put another course in the calendar.`);
  const times = timesOf(studio, wanted);
  refuseOver(times, now);
  const { purpose, roomId, tutorIds, onClosedDay = false } = wanted;
  const before = course.sessions.filter(({ endsAt }) => endsAt <= times.startsAt);
  refuseOverlap(course, times, (session) => sessionInWords(session, studio));
  const ordinal = (before.at(-1)?.ordinal ?? 0) + 1;
  const all = [...before, { ...times, purpose, ordinal }, ...course.sessions.slice(before.length)];
  await refuseTooSoon(tx, studio, await lockPlanForCourse(tx, course.planId), all);
  const { places } = course;
  await freeSessions(tx, { sessions: [{ ...times, roomId, tutorIds, onClosedDay, benches: places }], places });
  await shiftSessions(tx, courseId, ordinal);
  const id = newId();
  await tx.session.create({
    data: {
      ...{ id, courseId, ordinal, purpose, ...times, roomId, benches: places, isAdded: true, onClosedDay },
      sessionTutors: { create: tutorIds.map((staffMemberId) => ({ staffMemberId, ...times })) },
    },
  });
  const changed = await getChangedCourse(tx, courseId);
  const session = changed.sessions.find((one) => one.id === id);
  if (!session) throw new Problem('not-found', 'The session was not added. Look the course up again.');
  const where = `${sessionInWords(session, studio)}, ${session.roomName}`;
  await noteChange(tx, now, member, courseId, `A session is added: session ${ordinal}, on ${where}.`);
  if (onClosedDay) await noteClosedDay(tx, now, member, courseId, session);
  return { course: changed, session };
}

/** Sessions of a course come one after the other. */
function refuseOverlap({ sessions }: Course, { startsAt, endsAt }: Times, inWords: (session: Session) => string): void {
  const other = sessions.find((session) => session.startsAt < endsAt && startsAt < session.endsAt);
  if (other)
    refuseTimes(`Session ${other.ordinal} is at that time already: it is on ${inWords(other)}. Choose another time.`);
}
