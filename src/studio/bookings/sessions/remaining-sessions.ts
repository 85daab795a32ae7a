import { z } from 'zod';
import type { Transaction } from '../../../database/transaction.js';
import type { NewRemainingSessions } from '../../courses/change-contract.js';
import type { Member } from '../../courses/changes.js';
import { Session } from '../../courses/contract.js';
import { changeRemainingSessions } from '../../courses/remaining-sessions.js';
import { getStudio } from '../../settings/service.js';
import { tellMakeUps } from '../make-ups/service.js';
import { AlsoTold, Concerned, listConcerned, sessionTold, tellAll } from './concerned.js';

export const RemainingSessions = z
  .object({ sessions: z.array(Session), concerned: z.array(Concerned), alsoTold: AlsoTold })
  .meta({ id: 'RemainingSessions', description: 'A course with another room or other tutors, and who is told.' });
export type RemainingSessions = z.output<typeof RemainingSessions>;

/** Changes room and tutors of all sessions to come; of another room everybody is told in one letter. */
export async function changeRemainingAndNotify(
  tx: Transaction,
  now: Date,
  member: Member,
  courseId: string,
  wanted: NewRemainingSessions,
): Promise<RemainingSessions> {
  const { course, elsewhere } = await changeRemainingSessions(tx, now, member, courseId, wanted);
  const { sessions } = course;
  if (elsewhere.length === 0) return { sessions, concerned: [], alsoTold: [] };
  const studio = await getStudio(tx);
  const linesOf = (which: 'before' | 'after', of = elsewhere) =>
    of.map((pair) => sessionTold(pair[which], studio)).join('\n');
  const data = (attendees: string[]) => ({
    ...{ course: course.title, attendees, before: linesOf('before'), after: linesOf('after'), reason: null },
    ...{ sessions: sessions.map((session) => sessionTold(session, studio)), areSeveral: elsewhere.length > 1 },
  });
  const told = await tellAll(tx, now, await listConcerned(tx, now, courseId), 'sessionMoved', data);
  const guests = [];
  for (const pair of elsewhere)
    guests.push(
      ...(await tellMakeUps(tx, now, pair.after.id, (name) => ({
        ...{ course: course.title, attendees: [name], reason: null, sessions: [sessionTold(pair.after, studio)] },
        ...{ before: linesOf('before', [pair]), after: linesOf('after', [pair]) },
      }))),
    );
  return { sessions, ...told, alsoTold: [...told.alsoTold, ...guests] };
}
