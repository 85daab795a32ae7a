import { inOrder } from '../../database/find-page.js';
import type { Prisma } from '../../database/generated/client.js';
import type { Transaction } from '../../database/transaction.js';
import { cautionsOf } from '../../documents/hazard-words.js';
import { type PageQuery, page, pageArgs } from '../../http/paging.js';
import { Problem } from '../../problems.js';
import { hazardsOfPlans } from '../courses/hazards.js';
import { getCourse } from '../courses/service.js';
import { guardiansOf, WITH_GUARDIANS } from '../people/guardians.js';
import { momentsOf } from '../settings/days.js';
import { getStudio } from '../settings/service.js';
import { listAttendance } from './attendance.js';
import { consentsOn } from './consents/service.js';
import type { Booking, BookingQuery, ListedBooking, Register } from './contract.js';
import { listMakeUps } from './make-ups/read.js';
import { findBookings, listLapsedHolds } from './queries.js';
import { toBookings, WITH_PEOPLE } from './to-api.js';

/** The first session that takes place, or, of a cancelled course, that was to. */
const FIRST_OF_THOSE_LEFT = [
  { cancelledAt: { sort: 'asc', nulls: 'first' } },
  { ordinal: 'asc' },
] satisfies Prisma.SessionOrderByWithRelationInput[];

export async function getBooking(tx: Transaction, id: string): Promise<Booking> {
  const row = await tx.booking.findUnique({ where: { id }, include: WITH_PEOPLE });
  const [shown] = row ? await toBookings(tx, [row]) : [];
  if (!shown) throw new Problem('not-found', 'No booking has this id. Look it up under its course.');
  return shown;
}

/** All bookings of a course in the order in which they came, the cancelled ones included. */
export async function listBookingsOf(tx: Transaction, courseId: string): Promise<Booking[]> {
  await getCourse(tx, courseId);
  return toBookings(
    tx,
    await tx.booking.findMany({ where: { courseId }, include: WITH_PEOPLE, orderBy: { id: 'asc' } }),
  );
}

/** A page of the bookings of one course, in the order in which they came. */
export async function listCourseBookings(tx: Transaction, courseId: string, query: PageQuery) {
  await getCourse(tx, courseId);
  const rows = await tx.booking.findMany({ include: WITH_PEOPLE, ...pageArgs(query, { courseId }) });
  const { items, next } = page(rows, query, (row) => row);
  return { items: await toBookings(tx, items), next };
}

/** Bookings of any course, the latest first, each with what its course is. */
export async function listBookings(tx: Transaction, query: BookingQuery) {
  const { ids, ...found } = await findBookings(tx, query, await momentsOf(tx, query));
  const first = { select: { startsAt: true }, orderBy: FIRST_OF_THOSE_LEFT, take: 1 } as const;
  const rows = await tx.booking.findMany({
    where: { id: { in: ids } },
    include: { ...WITH_PEOPLE, course: { select: { title: true, sessions: first } } },
  });
  const courseOf = new Map(rows.map(({ id, course }) => [id, course]));
  const items = (await toBookings(tx, inOrder(ids, rows))).flatMap((booking): ListedBooking[] => {
    const course = courseOf.get(booking.id);
    const startsAt = course?.sessions[0]?.startsAt;
    return course && startsAt
      ? [{ ...booking, courseTitle: course.title, courseStartsAt: startsAt.toISOString() }]
      : [];
  });
  return { items, ...found };
}

/** Who is coming, for whoever teaches: names, sessions and what the materials warn of, no money. */
export async function getRegister(tx: Transaction, now: Date, courseId: string): Promise<Register> {
  const { title, sessions, planId } = await getCourse(tx, courseId);
  const { locale } = await getStudio(tx);
  const hazards = cautionsOf((await hazardsOfPlans(tx, [planId])).get(planId) ?? [], locale);
  const lapsed = (await listLapsedHolds(tx, now, courseId)).map(({ id }) => id);
  const places = await tx.place.findMany({
    where: { booking: { courseId, cancelledAt: null, id: { notIn: lapsed } } },
    include: { person: true, booking: { include: { payer: true } } },
    orderBy: [{ person: { name: 'asc' } }, { id: 'asc' }],
  });
  const people = places.map(({ personId, person, booking }) => ({
    personId,
    name: person.name,
    ...{ bookingId: booking.id, bookedBy: booking.payer.name },
  }));
  const [makeUps, attendance] = [await listMakeUps(tx, courseId), await listAttendance(tx, courseId)];
  const children = await listChildren(tx, courseId, [...people, ...makeUps]);
  const groups = await tx.booking.findMany({
    where: { courseId, cancelledAt: null, unnamed: { gt: 0 }, id: { notIn: lapsed } },
    select: { id: true, unnamed: true, payer: { select: { name: true } } },
  });
  const unnamed = groups.map(({ id: bookingId, payer, unnamed }) => ({ bookingId, bookedBy: payer.name, unnamed }));
  return { courseId, title, sessions, people, groups: unnamed, children, makeUps, attendance, hazards };
}

/** Which of these are children, whom to ring about each, and whether somebody agreed that they come. */
async function listChildren(
  tx: Transaction,
  courseId: string,
  people: readonly { personId: string }[],
): Promise<Register['children']> {
  const ids = people.map(({ personId }) => personId);
  const rows = await tx.person.findMany({ where: { id: { in: ids }, isChild: true }, include: WITH_GUARDIANS });
  const consents = await consentsOn(
    tx,
    courseId,
    rows.map(({ id }) => id),
  );
  return rows.map((row) => ({
    personId: row.id,
    guardians: guardiansOf(row),
    consent: consents.get(row.id) ?? null,
  }));
}
