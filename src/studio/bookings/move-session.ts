import { z } from 'zod';
import type { Transaction } from '../../database/transaction.js';
import { Id } from '../../http/types.js';
import type { SessionMovedData } from '../../mail/templates/session-moved.js';
import type { NewSessionMove } from '../courses/change-contract.js';
import type { Member } from '../courses/changes.js';
import { Session } from '../courses/contract.js';
import { type Moved, moveSession } from '../courses/move-session.js';
import { sessionInWords } from '../courses/session-dates.js';
import { notify } from '../notices/service.js';
import type { Studio } from '../settings/contract.js';
import { getStudio } from '../settings/service.js';
import { listLapsedHolds } from './queries.js';
import { listBookingsOf } from './read-bookings.js';

const Concerned = z.object({ bookingId: Id, payerId: Id, payerName: z.string(), attendees: z.array(z.string()) });

export const SessionMove = z
  .object({
    session: Session,
    concerned: z
      .array(Concerned)
      .meta({ description: 'The bookings that are told; nobody where only tutors changed.' }),
  })
  .meta({ id: 'SessionMove' });
export type SessionMove = z.output<typeof SessionMove>;

/** Moves a session and tells each payer, who tells whom they booked for. A hold that has run out is told nothing: it is released. */
export async function moveSessionAndNotify(
  tx: Transaction,
  now: Date,
  member: Member,
  sessionId: string,
  wanted: NewSessionMove,
): Promise<SessionMove> {
  const moved = await moveSession(tx, now, member, sessionId, wanted);
  if (!moved.isElsewhere) return { session: moved.after, concerned: [] };
  const studio = await getStudio(tx);
  const lapsed = new Set((await listLapsedHolds(tx, now, moved.course.id)).map(({ id }) => id));
  const bookings = (await listBookingsOf(tx, moved.course.id)).filter(
    ({ id, state }) => state !== 'cancelled' && !lapsed.has(id),
  );
  const concerned = bookings.map(({ id, payerId, payerName, attendees }) => ({
    ...{ bookingId: id, payerId, payerName },
    attendees: attendees.map(({ name }) => name),
  }));
  for (const { payerId, attendees } of concerned) {
    const data = movedData(moved, attendees, wanted.reason ?? null, studio);
    await notify(tx, now, { personId: payerId, occasion: 'sessionMoved', data });
  }
  return { session: moved.after, concerned };
}

function movedData(
  { course, before, after }: Moved,
  attendees: string[],
  reason: string | null,
  studio: Studio,
): z.output<typeof SessionMovedData> {
  const told = (session: Session) => `${sessionInWords(session, studio)}, ${session.roomName}`;
  return {
    ...{ course: course.title, attendees, reason, before: told(before), after: told(after) },
    sessions: course.sessions.map(told),
  };
}
