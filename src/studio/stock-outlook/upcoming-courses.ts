import type { Transaction } from '../../database/transaction.js';
import { listLapsedHolds } from '../bookings/queries.js';

export type UpcomingCourse = {
  id: string;
  planId: string;
  title: string;
  places: number;
  /** places booked or held; those whose hold has run out are free */
  booked: number;
  begun: boolean;
  /** all of them, past ones too, in their order */
  sessions: { purpose: string; startsAt: Date; minutes: number }[];
};

const MINUTE_MILLISECONDS = 60_000;

/** Courses with something still to come, with how many have booked, in as few questions to the database for one as for many; `known` are the lapsed holds, where they were asked for already. */
export async function listUpcomingCourses(
  tx: Transaction,
  now: Date,
  known?: readonly string[],
): Promise<UpcomingCourse[]> {
  const rows = await tx.course.findMany({
    where: { completedOn: null, cancelledAt: null, sessions: { some: { endsAt: { gt: now }, cancelledAt: null } } },
    orderBy: { id: 'asc' },
    select: {
      ...{ id: true, planId: true, title: true, places: true },
      sessions: {
        where: { cancelledAt: null },
        orderBy: { ordinal: 'asc' },
        select: { purpose: true, startsAt: true, endsAt: true },
      },
      bookings: { where: { cancelledAt: null }, select: { id: true, unnamed: true, places: { select: { id: true } } } },
    },
  });
  const lapsed = new Set(known ?? (await listLapsedHolds(tx, now)).map(({ id }) => id));
  return rows.map(({ bookings, sessions, ...row }) => ({
    ...row,
    booked: bookings
      .filter(({ id }) => !lapsed.has(id))
      .reduce((sum, { places, unnamed }) => sum + places.length + unnamed, 0),
    begun: sessions.some(({ startsAt }) => startsAt <= now),
    sessions: sessions.map(({ purpose, startsAt, endsAt }) => ({
      purpose,
      startsAt,
      minutes: Math.max(1, Math.round((endsAt.getTime() - startsAt.getTime()) / MINUTE_MILLISECONDS)),
    })),
  }));
}
