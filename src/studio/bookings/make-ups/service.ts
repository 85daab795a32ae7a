import type { Transaction } from '../../../database/transaction.js';
import { newId } from '../../../http/ids.js';
import { Problem } from '../../../problems.js';
import { type Member, noteChange } from '../../courses/changes.js';
import { getCourse, lockCourse } from '../../courses/service.js';
import { sessionInWords } from '../../courses/session-dates.js';
import { notify } from '../../notices/service.js';
import { getStudio } from '../../settings/service.js';
import { releaseExpired } from '../holds.js';
import { getBooking } from '../read-bookings.js';
import type { MakeUp, NewMakeUp } from './contract.js';
import { writeMakeUp, writeMakeUpEnded } from './letters.js';
import { placesLeftIn } from './queries.js';
import { getMakeUpRow, getSession, type MakeUpRow, type SessionRow, showMakeUp, WHOLE } from './read.js';
import { refuseMakeUp } from './refusals.js';

/**
 * Lets somebody come to a session of another course for one that they missed or will miss. There they take a place of that session alone,
 * which is counted under the lock of its course; both courses are locked in the order of their ids.
 */
export async function addMakeUp(
  tx: Transaction,
  now: Date,
  member: Member,
  bookingId: string,
  wanted: NewMakeUp,
): Promise<MakeUp> {
  const found = await getBooking(tx, bookingId);
  const { courseId } = await getSession(tx, wanted.sessionId);
  await lockBoth(tx, [found.courseId, courseId]);
  await releaseExpired(tx, now, courseId);
  const booking = await getBooking(tx, bookingId); // as it is under the locks
  const [missed, there] = [await getSession(tx, wanted.missedSessionId), await getSession(tx, wanted.sessionId)];
  const person = await refuseMakeUp(tx, now, booking, wanted.personId, missed, there);
  const left = await placesLeftIn(tx, there.id);
  if (left < 1)
    throw new Problem('course-full', 'No place is left in that session. Choose another one.', { placesLeft: 0 });
  const id = newId();
  const data = { id, bookingId, personId: person.personId, missedSessionId: missed.id, sessionId: there.id };
  await tx.makeUp.create({ data: { ...data, madeAt: now, madeById: member.staffMemberId } });
  const row = await getMakeUpRow(tx, id);
  await note(tx, now, member, row, ['will make it up', 'comes to make up a session of']);
  await writeMakeUp(tx, now, showMakeUp(row), row.booking.payerId, await getCourse(tx, there.courseId));
  return showMakeUp(row);
}

async function lockBoth(tx: Transaction, courseIds: readonly string[]): Promise<void> {
  for (const id of [...new Set(courseIds)].sort()) await lockCourse(tx, id);
}

/** Takes it off again; the place in that session is free. */
export async function removeMakeUp(tx: Transaction, now: Date, member: Member, id: string): Promise<MakeUp> {
  const found = await getMakeUpRow(tx, id);
  await lockBoth(tx, [found.missedSession.courseId, found.session.courseId]);
  const row = await getMakeUpRow(tx, id);
  if (row.endedAt !== null)
    throw new Problem('already-cancelled', `This was taken off before: ${row.endedBecause}. Nothing was changed.`);
  if (row.session.startsAt <= now)
    throw new Problem('course-over', 'The session has begun. Note on its register whether they came.');
  await end(tx, now, row, 'taken off', null);
  await note(tx, now, member, row, ['will not make it up', 'no longer comes to make up a session of']);
  return showMakeUp(row);
}

/** Ends those who make a session up at these sessions, which are cancelled, and tells each. Call it under their course's lock. */
export async function endMakeUpsAt(
  tx: Transaction,
  now: Date,
  sessionIds: readonly string[],
  reason: string,
): Promise<MakeUp[]> {
  const rows = await tx.makeUp.findMany({
    where: { sessionId: { in: [...sessionIds] }, endedAt: null },
    include: WHOLE,
    orderBy: { id: 'asc' },
  });
  for (const row of rows) await end(tx, now, row, 'the session is cancelled', reason);
  return rows.map(showMakeUp);
}

/** Tells the payers of those who make a session up in this one that it is moved. @returns who comes */
export async function tellMakeUps(tx: Transaction, now: Date, sessionId: string, data: (name: string) => object) {
  const rows = await tx.makeUp.findMany({
    where: { sessionId, endedAt: null },
    include: WHOLE,
    orderBy: { id: 'asc' },
  });
  for (const { person, booking } of rows)
    await notify(tx, now, { personId: booking.payerId, occasion: 'sessionMoved', data: data(person.name) });
  return rows.map(({ personId, person }) => ({ personId, name: person.name }));
}

async function end(tx: Transaction, now: Date, row: MakeUpRow, because: string, reason: string | null): Promise<void> {
  await tx.makeUp.update({ where: { id: row.id }, data: { endedAt: now, endedBecause: because } });
  await writeMakeUpEnded(
    tx,
    now,
    showMakeUp(row),
    row.booking.payerId,
    reason,
    await getCourse(tx, row.session.courseId),
  );
}

/** In the history of both courses. */
async function note(tx: Transaction, now: Date, member: Member, row: MakeUpRow, [here, there]: [string, string]) {
  const studio = await getStudio(tx);
  const { person, missedSession: missed, session } = row;
  const of = (one: SessionRow) => `“${one.course.title}”, ${sessionInWords(one, studio)}`;
  const called = (one: SessionRow) => `session ${one.ordinal}, ${sessionInWords(one, studio)}`;
  await noteChange(
    tx,
    now,
    member,
    missed.courseId,
    `${person.name} misses ${called(missed)}, and ${here} in ${of(session)}.`,
  );
  await noteChange(tx, now, member, session.courseId, `${person.name} ${there} ${of(missed)}, in ${called(session)}.`);
}
