import type { Prisma } from '../../../database/generated/client.js';
import type { Transaction } from '../../../database/transaction.js';
import { Problem, see } from '../../../problems.js';
import type { MakeUp, MakeUpPlaces } from './contract.js';
import { listMakeUpPlaces } from './queries.js';

const SESSION = { course: { include: { plan: { select: { kind: true } } } }, room: true } as const;
export const WHOLE = {
  ...{ person: true, booking: { select: { payerId: true } } },
  ...{ missedSession: { include: SESSION }, session: { include: SESSION } },
} as const satisfies Prisma.MakeUpInclude;
export type SessionRow = Prisma.SessionGetPayload<{ include: typeof SESSION }>;
export type MakeUpRow = Prisma.MakeUpGetPayload<{ include: typeof WHOLE }>;

const MAKE_UP_PLACES_MAX = 100;

/** Where a session can be made up. */
export async function getMakeUpPlaces(tx: Transaction, now: Date, sessionId: string): Promise<MakeUpPlaces> {
  const { courseId, ordinal, purpose, course } = await getSession(tx, sessionId);
  const missed = { courseId, planId: course.planId, ordinal, purpose };
  const rows = await listMakeUpPlaces(tx, now, missed, MAKE_UP_PLACES_MAX + 1);
  const items = rows.slice(0, MAKE_UP_PLACES_MAX).map(({ startsAt, endsAt, ...row }) => ({
    ...{ ...row, startsAt: startsAt.toISOString(), endsAt: endsAt.toISOString() },
  }));
  return { items, hasMore: rows.length > MAKE_UP_PLACES_MAX };
}

export async function getSession(tx: Transaction, id: string): Promise<SessionRow> {
  const row = await tx.session.findUnique({ where: { id }, include: SESSION });
  if (row) return row;
  throw new Problem(
    'not-found',
    'There is no such session. Its course is on the page Courses.',
    see('courses', '/api/courses'),
  );
}

/** Who makes up a session of this course elsewhere, and who comes to one of its own. */
export async function listMakeUps(tx: Transaction, courseId: string): Promise<MakeUp[]> {
  const rows = await tx.makeUp.findMany({
    where: { endedAt: null, OR: [{ session: { courseId } }, { missedSession: { courseId } }] },
    include: WHOLE,
    orderBy: [{ person: { name: 'asc' } }, { id: 'asc' }],
  });
  return rows.map(showMakeUp);
}

export async function getMakeUpRow(tx: Transaction, id: string): Promise<MakeUpRow> {
  const row = await tx.makeUp.findUnique({ where: { id }, include: WHOLE });
  if (row) return row;
  throw new Problem('not-found', 'Nobody makes up a session by this id. Look at the register of the session.');
}

const showSession = ({ id, courseId, course, startsAt, endsAt, room }: SessionRow): MakeUp['there'] => ({
  ...{ sessionId: id, courseId, courseTitle: course.title, roomName: room.name },
  ...{ startsAt: startsAt.toISOString(), endsAt: endsAt.toISOString() },
});

export const showMakeUp = ({ id, bookingId, personId, person, missedSession, session }: MakeUpRow): MakeUp => ({
  ...{ id, bookingId, personId, name: person.name },
  ...{ missed: showSession(missedSession), there: showSession(session) },
});
