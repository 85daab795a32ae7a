import type { Transaction } from '../../database/transaction.js';
import { sentenceOf } from '../../mail/templates/letter.js';
import { Problem, see } from '../../problems.js';
import { instantAt, localTime } from '../../trade/calendar/calendar.js';
import { formatDay } from '../../trade/text/format.js';
import type { Studio } from '../settings/contract.js';
import type { NewSessionMove } from './change-contract.js';
import { refuseCompleted } from './changes.js';
import { lockCourse } from './service.js';

export type Times = { startsAt: string; endsAt: string };

/** A session that can still be changed, with its course locked. */
export async function lockSession(tx: Transaction, now: Date, sessionId: string) {
  const found = await tx.session.findUnique({ where: { id: sessionId }, select: { courseId: true } });
  const course = found && (await lockCourse(tx, found.courseId));
  if (!course)
    throw new Problem(
      'not-found',
      'There is no such session. Its course is on the page Courses.',
      see('courses', '/api/courses'),
    );
  refuseCompleted(course);
  const before = course.sessions.find(({ id }) => id === sessionId);
  if (!before) {
    const because = course.cancelledSessions.find(({ id }) => id === sessionId)?.cancelledBecause ?? '';
    throw new Problem(
      'already-cancelled',
      `This session was cancelled before: ${sentenceOf(because)} Nothing was changed. Add a session instead.`,
    );
  }
  if (new Date(before.startsAt) <= now)
    throw new Problem('course-over', 'This session has begun, and stays as it was. Choose one that is still to come.');
  return { course, before };
}

export const refuseTimes = (sentence: string): never => {
  throw new Problem('wrong-time', sentence);
};

export function refuseOver({ startsAt }: Times, now: Date): void {
  if (new Date(startsAt) <= now) refuseTimes('That time is over. Choose one that is still to come.');
}

/** The instants of a time on the studio's clock; refuses one that is not on it. */
export function timesOf(
  { timeZone, locale }: Studio,
  { day, from, until }: Pick<NewSessionMove, 'day' | 'from' | 'until'>,
): Times {
  if (until <= from)
    refuseTimes(`From ${from} to ${until} would go over midnight. A session ends on its own day: choose a later end.`);
  const at = (time: string): string => {
    const instant = instantAt(day, time, timeZone);
    const shown = localTime(instant, timeZone);
    if (shown !== time)
      refuseTimes(
        `There is no ${time} on ${formatDay(day, locale, { weekday: true })}: the clocks go forward then, past that time. Choose ${shown} or another time.`,
      );
    return instant.toISOString();
  };
  const times = { startsAt: at(from), endsAt: at(until) };
  if (Date.parse(times.endsAt) - Date.parse(times.startsAt) > 12 * 3_600_000)
    refuseTimes('A session is at most 12 hours long. Choose an earlier end.');
  return times;
}
