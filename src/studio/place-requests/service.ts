import { inOrder } from '../../database/find-page.js';
import type { Prisma } from '../../database/generated/client.js';
import type { Transaction } from '../../database/transaction.js';
import { Problem } from '../../problems.js';
import { localDay } from '../../trade/calendar/calendar.js';
import type { Booking, NewBooking } from '../bookings/contract.js';
import { bookPlaces } from '../bookings/service.js';
import type { NewWaitingEntry, WaitingEntry } from '../bookings/waiting-list/contract.js';
import { addToWaitingList } from '../bookings/waiting-list/entries.js';
import { placesLeftOf, placesTaken } from '../courses/queries.js';
import { getStudio } from '../settings/service.js';
import type { PlaceRequest, PlaceRequestQuery } from './contract.js';
import { findRequests, listPeopleByEmail, lockRequest } from './queries.js';

const WHOLE = {
  course: { include: { sessions: { where: { cancelledAt: null }, orderBy: { startsAt: 'asc' } } } },
} as const;
type Row = Prisma.PlaceRequestGetPayload<{ include: typeof WHOLE }>;

/** Who asked for a place on the web page, the first first. */
export async function listRequests(tx: Transaction, now: Date, query: PlaceRequestQuery) {
  const { ids, ...found } = await findRequests(tx, query);
  return { items: await readRequests(tx, now, ids), ...found };
}

async function readRequests(tx: Transaction, now: Date, ids: readonly string[]): Promise<PlaceRequest[]> {
  if (ids.length === 0) return [];
  const rows = inOrder(ids, await tx.placeRequest.findMany({ where: { id: { in: [...ids] } }, include: WHOLE }));
  const { timeZone } = await getStudio(tx);
  const taken = await placesTaken(tx, [...new Set(rows.map(({ courseId }) => courseId))]);
  const people = await listPeopleByEmail(
    tx,
    rows.map(({ email }) => email),
  );
  return rows.map((row) => {
    const known = people.filter(({ email }) => email === row.email.toLowerCase()).map(({ id, name }) => ({ id, name }));
    return { ...show(row, now, timeZone), placesLeft: placesLeftOf(row.course.places, taken.get(row.courseId)), known };
  });
}

function show({ course, ...row }: Row, now: Date, timeZone: string): Omit<PlaceRequest, 'placesLeft' | 'known'> {
  const { id, courseId, name, email, phone, places, note, askedAt, answeredAt, answer, bookingId } = row;
  const first = course.sessions[0]?.startsAt ?? course.cancelledAt ?? now;
  return {
    ...{ id, courseId, courseTitle: course.title, firstDay: localDay(first, timeZone) },
    isJoinable: course.cancelledAt === null && course.completedOn === null && first > now,
    ...{ name, email, phone, places, note, askedAt: askedAt.toISOString() },
    ...{ answeredAt: answeredAt?.toISOString() ?? null, answer, bookingId },
  };
}

/** Makes a booking of a request, for those of them who come; it is answered once. */
export async function bookRequest(tx: Transaction, now: Date, id: string, wanted: NewBooking): Promise<Booking> {
  const courseId = await lockOpenRequest(tx, id);
  const booking = await bookPlaces(tx, now, courseId, wanted);
  await answer(tx, id, { answeredAt: now, answer: 'booked', bookingId: booking.id });
  return booking;
}

/** Puts who asked for a place on a course that is full on its waiting list. */
export async function letWait(tx: Transaction, now: Date, id: string, wanted: NewWaitingEntry): Promise<WaitingEntry> {
  const courseId = await lockOpenRequest(tx, id);
  const entry = await addToWaitingList(tx, now, courseId, wanted);
  await answer(tx, id, { answeredAt: now, answer: 'waiting', waitingEntryId: entry.id });
  return entry;
}

/** Notes that nothing comes of a request. Who asked is told by the owner: no letter goes to an address that was only typed. */
export async function declineRequest(tx: Transaction, now: Date, id: string): Promise<PlaceRequest> {
  await lockOpenRequest(tx, id);
  await answer(tx, id, { answeredAt: now, answer: 'declined' });
  const [request] = await readRequests(tx, now, [id]);
  if (!request) throw noRequest();
  return request;
}

const answer = (tx: Transaction, id: string, data: Prisma.PlaceRequestUncheckedUpdateInput) =>
  tx.placeRequest.update({ where: { id }, data });

const ANSWERS = {
  booked: 'A place was booked for',
  waiting: 'The waiting list has',
  declined: 'The request was declined of',
};

/** @returns the course that it is for @throws Problem already-there where it was answered before */
async function lockOpenRequest(tx: Transaction, id: string): Promise<string> {
  await lockRequest(tx, id);
  const request = await tx.placeRequest.findUnique({ where: { id } });
  if (!request) throw noRequest();
  if (request.answer !== null)
    throw new Problem('already-there', `${ANSWERS[request.answer]} ${request.name}. Load the page again.`);
  return request.courseId;
}

const noRequest = () => new Problem('not-found', 'Nobody asked by this id, or it was long ago. Look the requests up.');
