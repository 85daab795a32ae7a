import type { Transaction } from '../../database/transaction.js';
import { sentenceOf } from '../../mail/templates/letter.js';
import { Problem } from '../../problems.js';
import { splitExactly } from '../../trade/money/money.js';
import { getStudio } from '../settings/service.js';
import { cancelSessions, sessionsWithPeople } from './cancel-course.js';
import { type Member, noteChange } from './changes.js';
import type { Course, Session } from './contract.js';
import { getChangedCourse } from './service.js';
import { sessionInWords } from './session-dates.js';
import { lockSession } from './session-times.js';

export type CancelledSession = { before: Course; session: Session; after: Course };

/** Cancels one session that is still to come, which frees its room and tutors; the others take place. */
export async function cancelSession(
  tx: Transaction,
  now: Date,
  member: Member,
  sessionId: string,
  reason: string,
): Promise<CancelledSession> {
  const { course: before, before: session } = await lockSession(tx, now, sessionId);
  if ((await sessionsWithPeople(tx, [sessionId])).size > 0)
    throw new Problem(
      'course-over',
      'It is noted that somebody came to this session, so it can’t be cancelled. Correct its register first.',
    );
  if (before.sessions.length === 1)
    throw new Problem(
      'last-session',
      `This is the only session of "${before.title}" that is left. Cancel the course instead.`,
    );
  await cancelSessions(tx, now, [sessionId], reason);
  const when = sessionInWords(session, await getStudio(tx));
  const taught =
    session.tutors.length === 0 ? '' : ` It was to be taught by ${session.tutors.map(({ name }) => name).join(', ')}.`;
  const what = `Session ${session.ordinal}, ${when}, is cancelled: ${sentenceOf(reason)}${taught}`;
  await noteChange(tx, now, member, before.id, what);
  return { before, session, after: await getChangedCourse(tx, before.id) };
}

/** What a session's part of the price of a place is, by its minutes of all that the price was for; one that was added cost nothing. */
export function partOfPriceMinor({ sessions, cancelledSessions, priceMinor }: Course, session: Session): number {
  if (session.isAdded) return 0;
  const all = [...sessions, ...cancelledSessions].filter(({ isAdded }) => !isAdded);
  const minutes = all.map(({ startsAt, endsAt }) => (Date.parse(endsAt) - Date.parse(startsAt)) / 60_000);
  return splitExactly(priceMinor, minutes)[all.findIndex(({ id }) => id === session.id)] ?? 0;
}
