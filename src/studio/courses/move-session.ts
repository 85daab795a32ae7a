import type { Transaction } from '../../database/transaction.js';
import type { Studio } from '../settings/contract.js';
import { getStudio } from '../settings/service.js';
import type { NewSessionMove } from './change-contract.js';
import { type Member, noteChange } from './changes.js';
import { noteClosedDay } from './closed-days.js';
import type { Course, Session } from './contract.js';
import { freeSessions } from './free-sessions.js';
import { refuseTooSoon } from './lead-times.js';
import { lockPlanForCourse } from './plans.js';
import { getChangedCourse } from './service.js';
import { sessionInWords } from './session-dates.js';
import { lockSession, refuseOver, refuseTimes, type Times, timesOf } from './session-times.js';

export type Moved = {
  course: Course;
  before: Session;
  after: Session;
  /** whether it is at another time or in another room: what students must know */
  isElsewhere: boolean;
};

/** Moves a session to another time or room, or gives it other tutors. It finds them free, or nothing is changed. */
export async function moveSession(
  tx: Transaction,
  now: Date,
  member: Member,
  sessionId: string,
  wanted: NewSessionMove,
): Promise<Moved> {
  const studio = await getStudio(tx);
  const { course, before } = await lockSession(tx, now, sessionId);
  const times = timesOf(studio, wanted);
  const isMoved = times.startsAt !== before.startsAt || times.endsAt !== before.endsAt;
  if (isMoved) await refuseTime(tx, now, studio, course, before, times);
  const tutorsBefore = before.tutors.map(({ id }) => id);
  const hasSameTutors = same(tutorsBefore, wanted.tutorIds);
  if (!isMoved && wanted.roomId === before.roomId && hasSameTutors)
    return { course, before, after: before, isElsewhere: false };
  const { roomId, tutorIds, onClosedDay = false } = wanted;
  await freeSessions(tx, {
    sessions: [{ ...times, roomId, tutorIds, onClosedDay, benches: before.benches, sessionId, staysThen: !isMoved }],
    places: course.places,
  });
  await tx.sessionTutor.deleteMany({ where: { sessionId } });
  await tx.session.update({
    where: { id: sessionId },
    data: { ...times, roomId, ...(isMoved && { onClosedDay }) },
  });
  await tx.sessionTutor.createMany({ data: tutorIds.map((staffMemberId) => ({ sessionId, staffMemberId, ...times })) });
  const changed = await getChangedCourse(tx, course.id);
  const after = changed.sessions.find(({ id }) => id === sessionId) ?? before;
  for (const what of differences(before, after, studio)) await noteChange(tx, now, member, course.id, what);
  if (isMoved && onClosedDay) await noteClosedDay(tx, now, member, course.id, after);
  return { course: changed, before, after, isElsewhere: isMoved || roomId !== before.roomId };
}

/** Refuses a time that is over, out of the order of the course's sessions, or too soon for its ware. */
async function refuseTime(
  tx: Transaction,
  now: Date,
  studio: Studio,
  course: Course,
  { id }: Session,
  times: Times,
): Promise<void> {
  refuseOver(times, now);
  if ((await tx.attendance.count({ where: { sessionId: id } })) > 0)
    refuseTimes('Who came to this session is noted already, so it stays when it was.');
  const at = course.sessions.findIndex((other) => other.id === id);
  const [previous, next] = [course.sessions[at - 1], course.sessions[at + 1]];
  if (previous && times.startsAt < previous.endsAt)
    refuseTimes(
      `Session ${previous.ordinal} comes first: it is on ${sessionInWords(previous, studio)}. Choose a later time, or move that one first.`,
    );
  if (next && times.endsAt > next.startsAt)
    refuseTimes(
      `Session ${next.ordinal} comes after it: it is on ${sessionInWords(next, studio)}. Choose an earlier time, or move that one first.`,
    );
  const plan = await lockPlanForCourse(tx, course.planId);
  await refuseTooSoon(
    tx,
    studio,
    plan,
    course.sessions.map((session) => (session.id === id ? { ...session, ...times } : session)),
  );
}

const same = (one: readonly string[], other: readonly string[]) =>
  one.length === other.length && one.every((id) => other.includes(id));

function differences(before: Session, after: Session, studio: Studio): string[] {
  const called = `Session ${before.ordinal}`;
  const [was, is] = [sessionInWords(before, studio), sessionInWords(after, studio)];
  const tutors = ({ tutors: of }: Session) => of.map(({ name }) => name).join(', ') || 'nobody';
  const lines: (string | false)[] = [
    was !== is && `${called} is now on ${is}. It was to be on ${was}.`,
    before.roomId !== after.roomId && `${called} is now in ${after.roomName}, before in ${before.roomName}.`,
    tutors(before) !== tutors(after) && `${called} is taught by ${tutors(after)}, before by ${tutors(before)}.`,
  ];
  return lines.filter((line) => line !== false);
}
