import type { z } from 'zod';
import { type Database, inTransaction, type Transaction } from '../../../database/transaction.js';
import type { DayBeforeData } from '../../../mail/templates/day-before.js';
import { addDays, instantAt, localDay, minuteOfDay } from '../../../trade/calendar/calendar.js';
import { formatDay } from '../../../trade/text/format.js';
import { stillDue } from '../../accounts/charges/charge-state.js';
import type { Course } from '../../courses/contract.js';
import { lockCourse } from '../../courses/service.js';
import { sessionInWords } from '../../courses/session-dates.js';
import { notify } from '../../notices/service.js';
import type { Studio } from '../../settings/contract.js';
import { getStudio } from '../../settings/service.js';
import type { Booking } from '../contract.js';
import { comersOf } from '../groups/comers.js';
import { paymentsInWords, visitOf } from '../letters.js';
import { listConcerned, tellOthers } from '../sessions/concerned.js';
import { listMakeUpsOf, listSessionsAhead, noteWritten, type SessionAhead } from './queries.js';

/** Nobody is written to in the night. */
const FROM_MINUTE = 9 * 60;

/**
 * Writes to those who come tomorrow, as the studio wishes: from nine in the morning by its clock, once for each session and day. What
 * was not written in time, since nothing ran, is written until the session begins.
 *
 * @returns for how many sessions
 */
export async function writeDayBefore(db: Database, now: Date): Promise<number> {
  if (!(await db.studio.findFirst({ where: { dayBefore: { not: 'never' } } }))) return 0;
  const studio = await getStudio(db);
  if (minuteOfDay(now, studio.timeZone) < FROM_MINUTE) return 0;
  const before = instantAt(addDays(localDay(now, studio.timeZone), 2), '00:00', studio.timeZone);
  const ahead = await listSessionsAhead(db, now, {
    ...{ before, timeZone: studio.timeZone, onlyFirst: studio.dayBefore === 'first' },
  });
  let written = 0;
  for (const session of ahead) if (await inTransaction(db, (tx) => writeOfSession(tx, now, session))) written++;
  return written;
}

async function writeOfSession(tx: Transaction, now: Date, ahead: SessionAhead): Promise<boolean> {
  const course = await lockCourse(tx, ahead.courseId); // nobody books, cancels or moves it meanwhile
  const session = course.sessions.find(({ id }) => id === ahead.sessionId);
  const studio = await getStudio(tx);
  if (!session || session.cancelledBecause !== null) return false;
  if (localDay(new Date(session.startsAt), studio.timeZone) !== ahead.day) return false;
  if (!(await noteWritten(tx, ahead, now))) return false;
  const makeUps = await listMakeUpsOf(tx, session.id);
  const away = new Set(makeUps.filter(({ isAway }) => isAway).map(({ personId }) => personId));
  const coming = (await listConcerned(tx, now, course.id))
    .filter(({ state }) => state === 'confirmed') // a hold has its own letters until its deposit is there
    .map((booking) => ({ ...booking, attendees: booking.attendees.filter(({ personId }) => !away.has(personId)) }))
    .filter(({ attendees }) => attendees.length > 0);
  const about = await aboutSession(tx, course, ahead, studio);
  for (const booking of coming) {
    const data = { ...about, attendees: comersOf(booking), balance: balanceOf(booking, studio) };
    await notify(tx, now, { personId: booking.payerId, occasion: 'dayBefore', data });
  }
  await tellOthers(tx, now, coming, 'dayBefore', (attendees) => ({ ...about, attendees, balance: [] }));
  for (const { payerId, name } of makeUps.filter(({ isAway }) => !isAway))
    await notify(tx, now, {
      ...{ personId: payerId, occasion: 'dayBefore' },
      data: { ...about, isFirstOfSeveral: false, attendees: [name], balance: [] },
    });
  return true;
}

type About = Omit<z.output<typeof DayBeforeData>, 'attendees' | 'balance'>;

/** What the letters to all who come to a session have in common. */
async function aboutSession(tx: Transaction, course: Course, ahead: SessionAhead, studio: Studio): Promise<About> {
  const taking = course.sessions.filter(({ cancelledBecause }) => cancelledBecause === null);
  const session = taking.find(({ id }) => id === ahead.sessionId);
  const { attendees: _, ...visit } = await visitOf(tx, { attendees: [], unnamed: 0 }, course, studio);
  return {
    ...visit,
    day: formatDay(ahead.day, studio.locale, { weekday: true }),
    sessions: session ? [`${sessionInWords(session, studio)}, ${session.roomName}`] : [],
    isFirstOfSeveral: taking.length > 1 && taking[0]?.id === ahead.sessionId,
  };
}

const balanceOf = ({ instalments, priceMinor, owedMinor }: Booking, studio: Studio) =>
  owedMinor === 0 ? [] : paymentsInWords(stillDue(instalments, priceMinor - owedMinor), studio);
