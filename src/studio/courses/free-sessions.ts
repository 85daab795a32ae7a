import type { Transaction } from '../../database/transaction.js';
import { Problem, see } from '../../problems.js';
import { getStudio, listRooms } from '../settings/service.js';
import type { NewCourse } from './contract.js';
import { lockRoomsAndTutors } from './queries.js';
import { type Planned, refuseBusyTutor, refuseFullRoom } from './schedule-conflicts.js';

type Wanted = NewCourse['sessions'][number] & Pick<Planned, 'sessionId'>;

/** The sessions wanted, once their rooms and tutors are locked and found to have time for them. */
export async function freeSessions(
  tx: Transaction,
  { sessions, places }: { sessions: readonly Wanted[]; places: number },
): Promise<Planned[]> {
  const tutorIds = [...new Set(sessions.flatMap((session) => session.tutorIds))];
  await lockRoomsAndTutors(tx, [...new Set(sessions.map(({ roomId }) => roomId))], tutorIds);
  if ((await tx.staffMember.count({ where: { id: { in: tutorIds }, removedAt: null } })) < tutorIds.length)
    throw new Problem(
      'not-found',
      'One of the tutors is not on the staff, or was removed. Choose a tutor from the staff list.',
      see('studio', '/api/staff'),
    );
  const studio = await getStudio(tx);
  const roomsById = new Map((await listRooms(tx)).map((room) => [room.id, room]));
  const planned: Planned[] = [];
  for (const { startsAt, endsAt, roomId, benches = places, tutorIds, sessionId } of sessions) {
    const room = roomsById.get(roomId);
    if (!room)
      throw new Problem(
        'not-found',
        'There is no such room. Look for it on the page Studio.',
        see('studio', '/api/rooms'),
      );
    const session: Planned = { startsAt: new Date(startsAt), endsAt: new Date(endsAt), room, benches, tutorIds };
    if (sessionId !== undefined) Object.assign(session, { sessionId });
    await refuseBusyTutor(tx, studio, session);
    await refuseFullRoom(tx, studio, session);
    planned.push(session);
  }
  return planned;
}
