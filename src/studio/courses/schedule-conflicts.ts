import type { Transaction } from '../../database/transaction.js';
import { Problem } from '../../problems.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { fullestMoment } from '../../trade/calendar/fullest-moment.js';
import { formatDay } from '../../trade/text/format.js';
import { listClosuresOn } from '../settings/closures.js';
import type { Closure } from '../settings/closures-contract.js';
import type { Studio } from '../settings/contract.js';
import { sessionInWords } from './session-dates.js';

/** A session that is about to be planned. Ranges are half-open: one that ends at 19:00 and one that begins then only touch. */
export type Planned = {
  startsAt: Date;
  endsAt: Date;
  room: { id: string; name: string; benches: number };
  benches: number;
  tutorIds: string[];
  /** the owner says that it takes place though the studio is closed that day */
  onClosedDay: boolean;
  /** the session itself, where it is there already: it doesn't clash with itself */
  sessionId?: string;
  /** its time stays: a day that was closed after it was planned is not in its way */
  staysThen?: boolean;
};

type Other = { id: string; ordinal: number; startsAt: Date; endsAt: Date; course: { title: string } };
type Teaching = { staffMemberId: string; startsAt: Date; endsAt: Date; staffMember: { name: string }; session: Other };
type Using = Other & { roomId: string; benches: number };

const during = ({ startsAt, endsAt }: Planned) => ({ startsAt: { lt: endsAt }, endsAt: { gt: startsAt } });
const isDuring = (planned: Planned, other: { startsAt: Date; endsAt: Date }) =>
  other.startsAt < planned.endsAt && other.endsAt > planned.startsAt;

/**
 * What is in the way of each session: a closed day, a tutor who teaches elsewhere, a room with too few benches. Lock rooms and tutors
 * first where the answer must hold. Asked of all of them at once, so a long series costs as many statements as one session.
 */
export async function findConflicts(
  tx: Transaction,
  studio: Studio,
  sessions: readonly Planned[],
): Promise<Problem[][]> {
  if (sessions.length === 0) return [];
  const teaching: Teaching[] = await tx.sessionTutor.findMany({
    where: { OR: sessions.map((planned) => ({ staffMemberId: { in: planned.tutorIds }, ...during(planned) })) },
    include: { staffMember: true, session: { include: { course: true } } },
    orderBy: [{ startsAt: 'asc' }, { sessionId: 'asc' }],
  });
  const using: Using[] = await tx.session.findMany({
    where: { cancelledAt: null, OR: sessions.map((planned) => ({ roomId: planned.room.id, ...during(planned) })) },
    include: { course: true },
    orderBy: [{ startsAt: 'asc' }, { id: 'asc' }],
  });
  const days = sessions.map(({ startsAt }) => localDay(startsAt, studio.timeZone)).sort();
  const closures = await listClosuresOn(tx, days[0] ?? '', days.at(-1) ?? '');
  return sessions.map((planned) =>
    [
      closedDay(studio, planned, closures),
      busyTutor(studio, planned, teaching),
      fullRoom(studio, planned, using),
    ].filter((problem) => problem !== null),
  );
}

function closedDay(studio: Studio, { startsAt, onClosedDay, staysThen }: Planned, closures: readonly Closure[]) {
  const day = localDay(startsAt, studio.timeZone);
  const closed = closures.find(({ from, to }) => from <= day && day <= to);
  if (!closed || onClosedDay || staysThen) return null;
  return new Problem(
    'closed-day',
    `The studio is closed on ${formatDay(day, studio.locale, { weekday: true })} (${closed.name}). Choose another day, or say that the session takes place all the same.`,
    { closureId: closed.id },
  );
}

function busyTutor(studio: Studio, planned: Planned, teaching: readonly Teaching[]) {
  const clash = teaching.find(
    (other) =>
      planned.tutorIds.includes(other.staffMemberId) &&
      isDuring(planned, other) &&
      other.session.id !== planned.sessionId,
  );
  if (!clash) return null;
  return new Problem(
    'tutor-busy',
    `${clash.staffMember.name} teaches ${named(clash.session, studio)}. Choose another tutor or another time.`,
    { sessionId: clash.session.id },
  );
}

/** All that use the room at once are counted. */
function fullRoom(studio: Studio, planned: Planned, using: readonly Using[]) {
  const { room, benches } = planned;
  if (benches > room.benches)
    return new Problem(
      'room-full',
      `${room.name} has ${room.benches} benches and the session needs ${benches}. Choose a larger room or take fewer places.`,
    );
  const others = using.filter(
    (other) => other.roomId === room.id && isDuring(planned, other) && other.id !== planned.sessionId,
  );
  const most = fullestMoment(planned.startsAt, others);
  if (!most || most.benches + benches <= room.benches) return null;
  return new Problem(
    'room-full',
    `${room.name} has ${room.benches} benches, of which ${most.benches} are taken by ${named(most.first, studio)}${most.more > 0 ? ` and ${most.more} more` : ''}; the session needs ${benches}. Choose another room or another time.`,
    { sessionId: most.first.id, benchesLeft: room.benches - most.benches },
  );
}

const named = (other: Other, studio: Studio) =>
  `"${other.course.title}", session ${other.ordinal}, on ${sessionInWords(other, studio)}`;
