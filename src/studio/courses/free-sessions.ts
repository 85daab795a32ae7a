import type { Transaction } from '../../database/transaction.js';
import { Problem, see } from '../../problems.js';
import { getStudio, listRooms } from '../settings/service.js';
import type { NewCourse } from './contract.js';
import { lockRoomsAndTutors } from './queries.js';
import { findConflicts, type Planned } from './schedule-conflicts.js';

export type WantedSession = NewCourse['sessions'][number] & Pick<Planned, 'sessionId' | 'staysThen'>;
type Wanted = { sessions: readonly WantedSession[]; places: number };

/** The sessions wanted, once their rooms and tutors are locked and found to have time for them, and the studio to be open. */
export async function freeSessions(tx: Transaction, wanted: Wanted): Promise<Planned[]> {
  const { sessions } = wanted;
  const tutorIds = [...new Set(sessions.flatMap((session) => session.tutorIds))];
  await lockRoomsAndTutors(tx, [...new Set(sessions.map(({ roomId }) => roomId))], tutorIds);
  const planned = await plannedSessions(tx, wanted);
  const [conflict] = (await findConflicts(tx, await getStudio(tx), planned)).flat();
  if (conflict) throw conflict;
  return planned;
}

/** The sessions wanted with their rooms. @throws Problem not-found, where a room or a tutor is not there */
export async function plannedSessions(tx: Transaction, { sessions, places }: Wanted): Promise<Planned[]> {
  const tutorIds = [...new Set(sessions.flatMap((session) => session.tutorIds))];
  if ((await tx.staffMember.count({ where: { id: { in: tutorIds }, removedAt: null } })) < tutorIds.length)
    throw new Problem(
      'not-found',
      'One of the tutors is not on the staff, or was removed. Choose a tutor from the staff list.',
      see('studio', '/api/staff'),
    );
  const roomsById = new Map((await listRooms(tx)).map((room) => [room.id, room]));
  return sessions.map(
    ({ startsAt, endsAt, roomId, benches = places, tutorIds, onClosedDay = false, ...rest }): Planned => {
      const room = roomsById.get(roomId);
      if (!room)
        throw new Problem(
          'not-found',
          'There is no such room. Look for it on the page Studio.',
          see('studio', '/api/rooms'),
        );
      const { sessionId, staysThen = false } = rest;
      return {
        ...{ startsAt: new Date(startsAt), endsAt: new Date(endsAt), room, benches, tutorIds, onClosedDay, staysThen },
        ...(sessionId !== undefined && { sessionId }),
      };
    },
  );
}
