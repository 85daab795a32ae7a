import type { Transaction } from '../../database/transaction.js';
import { newId } from '../../http/ids.js';
import { Problem, see } from '../../problems.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { formatDay } from '../../trade/text/format.js';
import { getPeople } from '../people/service.js';
import { getStudio } from '../settings/service.js';
import type { Attendance, NewAttendance } from './contract.js';
import { listLatestAttendance } from './queries.js';

type Member = { staffMemberId: string; name: string };

/**
 * Notes who came to a session. It is appended: what was noted before stays, and the latest counts, by when it was noted rather than by
 * when it came here, since a phone may have been without a connection. A phone's clock that is fast is not believed beyond now.
 */
export async function noteAttendance(
  tx: Transaction,
  now: Date,
  member: Member,
  sessionId: string,
  { personId, came, notedAt: claimed }: NewAttendance,
): Promise<Attendance> {
  const session = await tx.session.findUnique({ where: { id: sessionId }, include: { course: true } });
  if (!session)
    throw new Problem(
      'not-found',
      'There is no such session. Its course is on the page Courses.',
      see('courses', '/api/courses'),
    );
  if (session.cancelledBecause !== null)
    throw new Problem(
      'no-place',
      'This session is cancelled, so nobody comes. Note it at the session that took place.',
    );
  const notedAt = claimed !== undefined && new Date(claimed) < now ? new Date(claimed) : now;
  const { timeZone, locale } = await getStudio(tx);
  const day = localDay(session.startsAt, timeZone);
  if (localDay(notedAt, timeZone) < day)
    throw new Problem(
      'session-ahead',
      `The session is on ${formatDay(day, locale, { weekday: true })}. Note who came from that day on.`,
    );
  const [{ name }] = await getPeople(tx, [personId]);
  const there = { OR: [{ cancelledAt: null }, { cancelledAt: { gt: notedAt } }] };
  const place = await tx.place.findFirst({ where: { personId, booking: { courseId: session.courseId, ...there } } });
  const makesUp = { sessionId, personId, OR: [{ endedAt: null }, { endedAt: { gt: notedAt } }] };
  if (!place && !(await tx.makeUp.findFirst({ where: makesUp })))
    throw new Problem(
      'no-place',
      `${name} has no place on "${session.course.title}". Book one first, on the page of the course.`,
    );
  await tx.attendance.create({
    data: { id: newId(), sessionId, personId, came, notedAt, receivedAt: now, notedById: member.staffMemberId },
  });
  return { sessionId, personId, came, notedAt: notedAt.toISOString(), notedBy: member.name };
}

/** Who came to which session of a course, as it counts now. */
export async function listAttendance(tx: Transaction, courseId: string): Promise<Attendance[]> {
  const latest = await listLatestAttendance(tx, courseId);
  return latest.map(({ notedAt, ...entry }) => ({ ...entry, notedAt: notedAt.toISOString() }));
}
