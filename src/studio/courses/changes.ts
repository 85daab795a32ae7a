import type { Transaction } from '../../database/transaction.js';
import { toDate } from '../../database/values.js';
import { newId } from '../../http/ids.js';
import { type PageQuery, page, pageArgs } from '../../http/paging.js';
import { Problem } from '../../problems.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { formatDay } from '../../trade/text/format.js';
import { getStudio } from '../settings/service.js';
import type { CourseParticulars } from './change-contract.js';
import type { Course } from './contract.js';
import { freeSessions } from './free-sessions.js';
import { countTaken } from './queries.js';
import { getChangedCourse, getCourse, lockCourse, refuseCancelled } from './service.js';

export type Member = { staffMemberId: string };

/** Adds to the history of a course what somebody changed, in words as they are now. */
export async function noteChange(tx: Transaction, now: Date, member: Member, courseId: string, what: string) {
  await tx.courseChange.create({
    data: { id: newId(), courseId, at: now, madeById: member.staffMemberId, what },
  });
}

/** What was changed of a course since it was put in the calendar, the first change first. */
export async function listChanges(tx: Transaction, courseId: string, query: PageQuery) {
  await getCourse(tx, courseId);
  const rows = await tx.courseChange.findMany({ include: { madeBy: true }, ...pageArgs(query, { courseId }) });
  return page(rows, query, ({ id, at, madeBy, what }) => ({ id, at: at.toISOString(), madeBy: madeBy.name, what }));
}

const particularsOf = ({ title, places, minimum, decideOn, note }: Course): CourseParticulars => ({
  ...{ title, places, minimum, decideOn, note },
});

export const getParticulars = async (tx: Transaction, id: string) => particularsOf(await getCourse(tx, id));

/** The same, with the course locked until this transaction ends. */
export const lockParticulars = async (tx: Transaction, id: string) => particularsOf(await lockCourse(tx, id));

/** Changes what a course is called, says and offers; lock it first. It never has fewer places than are taken. */
export async function changeParticulars(
  tx: Transaction,
  now: Date,
  member: Member,
  id: string,
  wanted: CourseParticulars,
): Promise<CourseParticulars> {
  const course = await getCourse(tx, id);
  refuseCompleted(course);
  if ((course.kind === 'openStudio') !== (wanted.minimum === 0))
    throw new Problem(
      'invalid-request',
      course.kind === 'openStudio'
        ? 'Open studio runs even if nobody comes. Give 0 as its minimum.'
        : 'A course needs a minimum number of students. Give 1 or more.',
    );
  await refuseLateDecision(tx, course, wanted);
  if (wanted.places < course.places) await refuseFewerThanTaken(tx, course, wanted.places);
  if (wanted.places !== course.places) await changeBenches(tx, now, course, wanted.places);
  await tx.course.update({
    where: { id },
    data: { ...wanted, decideOn: wanted.decideOn === null ? null : toDate(wanted.decideOn) },
  });
  const { locale } = await getStudio(tx);
  for (const what of differences(course, wanted, locale)) await noteChange(tx, now, member, id, what);
  return particularsOf(await getChangedCourse(tx, id));
}

/** A day that was given earlier may be late by now, as a session was moved: it stays, and counts as the day of the beginning. */
async function refuseLateDecision(tx: Transaction, course: Course, { decideOn }: CourseParticulars): Promise<void> {
  const [first] = course.sessions;
  if (decideOn === null || decideOn === course.decideOn || !first) return;
  if (course.kind === 'openStudio')
    throw new Problem('invalid-request', 'Open studio runs even if nobody comes. Leave the day of decision empty.');
  const { timeZone, locale } = await getStudio(tx);
  const begins = localDay(new Date(first.startsAt), timeZone);
  if (decideOn > begins)
    throw new Problem(
      'invalid-request',
      `It must be decided before the course begins, on ${formatDay(begins, locale)}. Give that day or an earlier one.`,
      { errors: [{ pointer: '/decideOn', detail: 'must not be after the course begins' }] },
    );
}

export function refuseCompleted(course: Course): void {
  refuseCancelled(course);
  const { completedOn } = course;
  if (completedOn !== null) throw new Problem('course-over', 'The course is completed, and stays as it was.');
}

async function refuseFewerThanTaken(tx: Transaction, { id, title }: Course, places: number): Promise<void> {
  const taken = await countTaken(tx, id);
  if (places >= taken) return;
  throw new Problem(
    'course-full',
    `${taken === 1 ? 'One place' : `${taken} places`} of "${title}" ${taken === 1 ? 'is' : 'are'} booked or held. Give at least ${taken} places, or cancel a booking first.`,
    { placesTaken: taken },
  );
}

/** A session that stays when it is: a day that was closed later is not in its way. */
const UNMOVED = { onClosedDay: false, staysThen: true };

/** Sessions for which each place has a bench keep it so, as far as their rooms allow; what was held already stays as it was. */
export async function changeBenches(tx: Transaction, now: Date, course: Course, places: number): Promise<void> {
  const changing = course.sessions
    .filter(({ benches, endsAt }) => new Date(endsAt) > now && (benches === course.places || benches > places))
    .map((session) => ({ ...session, ...UNMOVED, sessionId: session.id, benches: places, tutorIds: [] }));
  const planned = await freeSessions(tx, { sessions: changing, places });
  for (const { sessionId, benches } of planned)
    await tx.session.update({ where: { id: sessionId ?? '' }, data: { benches } });
}

function differences(before: CourseParticulars, after: CourseParticulars, locale: string): string[] {
  const lines: (string | false)[] = [
    before.title !== after.title && `Title: "${before.title}" is now "${after.title}".`,
    before.places !== after.places && `Places: ${after.places}, before ${before.places}.`,
    before.minimum !== after.minimum && `Minimum: ${after.minimum}, before ${before.minimum}.`,
    before.decideOn !== after.decideOn &&
      (after.decideOn === null
        ? 'To be decided a week before it begins.'
        : `To be decided by ${formatDay(after.decideOn, locale)}.`),
    before.note !== after.note &&
      (after.note === null ? 'The note for students was removed.' : `Note for students: ${after.note}`),
  ];
  return lines.filter((line) => line !== false);
}
