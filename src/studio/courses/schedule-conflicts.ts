import type { Transaction } from '../../database/transaction.js';
import { Problem } from '../../problems.js';
import { fullestMoment } from '../../trade/calendar/fullest-moment.js';
import type { Studio } from '../settings/contract.js';
import { sessionInWords } from './session-dates.js';

/** A session that is about to be planned. Ranges are half-open: one that ends at 19:00 and one that begins then only touch. */
export type Planned = {
  startsAt: Date;
  endsAt: Date;
  room: { id: string; name: string; benches: number };
  benches: number;
  tutorIds: string[];
  /** the session itself, where it is there already and is moved: it doesn't clash with itself */
  sessionId?: string;
};

type Other = { id: string; ordinal: number; startsAt: Date; endsAt: Date; course: { title: string } };

const during = ({ startsAt, endsAt }: Planned) => ({ startsAt: { lt: endsAt }, endsAt: { gt: startsAt } });

const notItself = <K extends string>({ sessionId }: Planned, key: K) =>
  sessionId === undefined ? {} : ({ [key]: { not: sessionId } } as Record<K, { not: string }>);

/** Refuses a session whose tutor teaches elsewhere then. Lock the tutors first. */
export async function refuseBusyTutor(tx: Transaction, studio: Studio, planned: Planned): Promise<void> {
  const clash = await tx.sessionTutor.findFirst({
    where: { staffMemberId: { in: planned.tutorIds }, ...notItself(planned, 'sessionId'), ...during(planned) },
    include: { staffMember: true, session: { include: { course: true } } },
    orderBy: { startsAt: 'asc' },
  });
  if (!clash) return;
  throw new Problem(
    'tutor-busy',
    `${clash.staffMember.name} teaches ${named(clash.session, studio)}. Choose another tutor or another time.`,
    { sessionId: clash.session.id },
  );
}

/** Refuses a session for which the room has too few benches, counting all that use it at once. Lock the room first. */
export async function refuseFullRoom(tx: Transaction, studio: Studio, planned: Planned): Promise<void> {
  const { room, benches } = planned;
  if (benches > room.benches)
    throw new Problem(
      'room-full',
      `${room.name} has ${room.benches} benches and the session needs ${benches}. Choose a larger room or take fewer places.`,
    );
  const others = await tx.session.findMany({
    where: { roomId: room.id, cancelledAt: null, ...notItself(planned, 'id'), ...during(planned) },
    include: { course: true },
    orderBy: { startsAt: 'asc' },
  });
  const most = fullestMoment(planned.startsAt, others);
  if (!most || most.benches + benches <= room.benches) return;
  throw new Problem(
    'room-full',
    `${room.name} has ${room.benches} benches, of which ${most.benches} are taken by ${named(most.first, studio)}${most.more > 0 ? ` and ${most.more} more` : ''}; the session needs ${benches}. Choose another room or another time.`,
    { sessionId: most.first.id, benchesLeft: room.benches - most.benches },
  );
}

const named = (other: Other, studio: Studio) =>
  `"${other.course.title}", session ${other.ordinal}, on ${sessionInWords(other, studio)}`;
