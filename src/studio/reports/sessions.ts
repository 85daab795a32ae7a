import type { Prisma } from '../../database/generated/client.js';
import type { Transaction } from '../../database/transaction.js';
import { cautionsOf } from '../../documents/hazard-words.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { groupBy } from '../../trade/maths/group-by.js';
import { getChargeStates } from '../accounts/queries.js';
import { hazardsIn, hazardsOfPlans } from '../courses/hazards.js';
import type { Studio } from '../settings/contract.js';
import type { TodaySession } from './contract.js';
import { dayNamed, type ReportDay } from './day.js';

const WITH = {
  course: { select: { title: true, places: true, planId: true, sessions: { select: { purpose: true } } } },
  room: { select: { name: true } },
  sessionTutors: { select: { staffMember: { select: { name: true } } }, orderBy: { staffMember: { name: 'asc' } } },
} as const satisfies Prisma.SessionInclude;
type Row = Prisma.SessionGetPayload<{ include: typeof WITH }>;

/**
 * The sessions of a day and who is coming; where there is none, those of the next day that has any.
 *
 * @param lapsed bookings whose hold has run out
 */
export async function sessionsOf(
  tx: Transaction,
  now: Date,
  today: ReportDay,
  { timeZone, locale }: Pick<Studio, 'timeZone' | 'locale'>,
  lapsed: readonly string[],
): Promise<{ sessions: TodaySession[]; nextSessionsOn: string | null }> {
  const ofToday = await sessionRows(tx, today, now);
  const first =
    ofToday.length > 0
      ? null
      : await tx.session.findFirst({
          where: { startsAt: { gte: today.endsAt } },
          orderBy: { startsAt: 'asc' },
          select: { startsAt: true },
        });
  const nextSessionsOn = first === null ? null : localDay(first.startsAt, timeZone);
  const rows = nextSessionsOn === null ? ofToday : await sessionRows(tx, dayNamed(nextSessionsOn, timeZone), null);
  const coming = await comingTo(tx, [...new Set(rows.map(({ courseId }) => courseId))], lapsed);
  const hazards = await hazardsOfPlans(tx, [...new Set(rows.map(({ course }) => course.planId))]);
  const sessions = rows.map((row) => {
    const all = row.course.sessions.map(({ purpose }) => purpose);
    const own = hazardsIn(hazards.get(row.course.planId) ?? [], row.purpose, all);
    return { ...show(row, coming.get(row.courseId) ?? []), hazards: cautionsOf(own, locale) };
  });
  return { sessions, nextSessionsOn };
}

/** What begins on a day, and what began on the day before and still goes on `now`. */
async function sessionRows(tx: Transaction, { startsAt, endsAt }: ReportDay, now: Date | null): Promise<Row[]> {
  const onDay = { startsAt: { gte: startsAt, lt: endsAt } };
  const where = now === null ? onDay : { OR: [onDay, { startsAt: { lt: startsAt }, endsAt: { gt: now } }] };
  return tx.session.findMany({ where, include: WITH, orderBy: [{ startsAt: 'asc' }, { id: 'asc' }] });
}

type Coming = TodaySession['coming'];

/** Who has a place in each of these courses, by name; places whose hold has run out are free again. */
async function comingTo(
  tx: Transaction,
  courseIds: readonly string[],
  lapsed: readonly string[],
): Promise<Map<string, Coming>> {
  if (courseIds.length === 0) return new Map();
  const places = await tx.place.findMany({
    where: { booking: { courseId: { in: [...courseIds] }, cancelledAt: null, id: { notIn: [...lapsed] } } },
    include: { person: { select: { name: true } }, booking: true },
    orderBy: [{ person: { name: 'asc' } }, { id: 'asc' }],
  });
  const states = await getChargeStates(tx, [...new Set(places.map(({ booking }) => booking.chargeId))]);
  const byCourse = groupBy(places, ({ booking }) => booking.courseId);
  return new Map(
    [...byCourse].map(([courseId, own]) => [
      courseId,
      own.map(({ personId, person, booking: { chargeId, depositMinor } }) => ({
        ...{ personId, name: person.name },
        provisional: (states.get(chargeId)?.paidMinor ?? 0) < depositMinor,
      })),
    ]),
  );
}

function show({ id, courseId, purpose, startsAt, endsAt, ...row }: Row, coming: Coming): Omit<TodaySession, 'hazards'> {
  return {
    ...{ sessionId: id, courseId, title: row.course.title, purpose },
    ...{ startsAt: startsAt.toISOString(), endsAt: endsAt.toISOString(), room: row.room.name },
    tutors: row.sessionTutors.map(({ staffMember }) => staffMember.name),
    ...{ booked: coming.length, places: row.course.places, coming },
  };
}
