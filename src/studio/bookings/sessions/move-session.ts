import type { z } from 'zod';
import type { Transaction } from '../../../database/transaction.js';
import type { SessionMovedData } from '../../../mail/templates/session-moved.js';
import type { NewSessionMove } from '../../courses/change-contract.js';
import type { Member } from '../../courses/changes.js';
import { type Moved, moveSession } from '../../courses/move-session.js';
import { momentInWords } from '../../courses/session-dates.js';
import type { Studio } from '../../settings/contract.js';
import { getStudio } from '../../settings/service.js';
import { tellMakeUps } from '../make-ups/service.js';
import { shortenHolds } from '../shorten-holds.js';
import { listConcerned, SessionChange, sessionTold, tellAll } from './concerned.js';

export const SessionMove = SessionChange.meta({ id: 'SessionMove' });
export type SessionMove = z.output<typeof SessionMove>;

/** Moves a session and tells each payer, and those who come on somebody else's booking. */
export async function moveSessionAndNotify(
  tx: Transaction,
  now: Date,
  member: Member,
  sessionId: string,
  wanted: NewSessionMove,
): Promise<SessionMove> {
  const moved = await moveSession(tx, now, member, sessionId, wanted);
  if (!moved.isElsewhere) return { session: moved.after, concerned: [], alsoTold: [] };
  const studio = await getStudio(tx);
  const shortened = await shortenHolds(tx, moved.course);
  const bookings = await listConcerned(tx, now, moved.course.id);
  const told = await tellAll(tx, now, bookings, 'sessionMoved', (attendees, bookingId = '') => ({
    ...movedData(moved, attendees, wanted.reason ?? null, studio),
    ...heldUntil(shortened.get(bookingId), studio),
  }));
  const guests = await tellMakeUps(tx, now, sessionId, (name) => ({
    ...movedData(moved, [name], wanted.reason ?? null, studio),
    sessions: [sessionTold(moved.after, studio)], // they come to this one alone
  }));
  return { session: moved.after, ...told, alsoTold: [...told.alsoTold, ...guests] };
}

/** What the letter says of a hold that ends earlier than it was told. */
export const heldUntil = (until: string | undefined, studio: Studio) =>
  until === undefined ? {} : { heldUntil: momentInWords(until, studio) };

function movedData(
  { course, before, after }: Moved,
  attendees: string[],
  reason: string | null,
  studio: Studio,
): z.output<typeof SessionMovedData> {
  return {
    ...{ course: course.title, attendees, reason },
    ...{ before: sessionTold(before, studio), after: sessionTold(after, studio) },
    sessions: course.sessions.map((session) => sessionTold(session, studio)),
  };
}
