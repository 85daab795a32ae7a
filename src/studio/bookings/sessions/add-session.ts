import type { z } from 'zod';
import type { Transaction } from '../../../database/transaction.js';
import type { SessionAddedData } from '../../../mail/templates/session-added.js';
import { addSession } from '../../courses/add-session.js';
import type { NewSessionAdded } from '../../courses/change-contract.js';
import type { Member } from '../../courses/changes.js';
import { getStudio } from '../../settings/service.js';
import { shortenHolds } from '../shorten-holds.js';
import { listConcerned, SessionChange, sessionTold, tellAll } from './concerned.js';
import { heldUntil } from './move-session.js';

export const SessionAddition = SessionChange.meta({ id: 'SessionAddition' });
export type SessionAddition = z.output<typeof SessionAddition>;

/** Adds a session to a course and tells everybody who has a place. */
export async function addSessionAndNotify(
  tx: Transaction,
  now: Date,
  member: Member,
  courseId: string,
  wanted: NewSessionAdded,
): Promise<SessionAddition> {
  const { course, session } = await addSession(tx, now, member, courseId, wanted);
  const studio = await getStudio(tx);
  const shortened = await shortenHolds(tx, course);
  const data = (attendees: string[], bookingId = ''): z.output<typeof SessionAddedData> => ({
    ...heldUntil(shortened.get(bookingId), studio),
    ...{ course: course.title, attendees, session: sessionTold(session, studio), note: wanted.note ?? null },
    sessions: course.sessions.map((one) => sessionTold(one, studio)),
  });
  const told = await tellAll(tx, now, await listConcerned(tx, now, courseId), 'sessionAdded', data);
  return { session, ...told };
}
