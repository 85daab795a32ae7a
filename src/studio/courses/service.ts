import type { Prisma } from '../../database/generated/client.js';
import { changed, once, type Transaction } from '../../database/transaction.js';
import { fromDate, toDate } from '../../database/values.js';
import { newId } from '../../http/ids.js';
import { type PageQuery, page } from '../../http/paging.js';
import { sentenceOf } from '../../mail/templates/letter.js';
import { Problem, see } from '../../problems.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { formatDay } from '../../trade/text/format.js';
import { drawMaterial } from '../materials/service.js';
import { getStudio, getTaxRate, listRefundPolicies, rememberTaxRates } from '../settings/service.js';
import { concessionRows, refuseOtherKind } from './concessions.js';
import type { Course, CourseDates, NewCourse } from './contract.js';
import type { CourseDraw, NewCourseDraw } from './draw-contract.js';
import { freeSessions } from './free-sessions.js';
import { refuseTooSoon } from './lead-times.js';
import { lockPlanForCourse, refuseRetired } from './plans.js';
import { partsOfPrice } from './price-tax-split.js';
import { lockCourseRow } from './queries.js';
import { soldOn } from './selling.js';

export { addPlan, getPlan } from './plans.js';

/** Gives a plan its dates. Each session finds its tutors free and its room with benches enough, or nothing is written. */
export async function addCourse(tx: Transaction, wanted: NewCourse): Promise<Course> {
  const { sessions, concessions: _, ...terms } = wanted;
  const plan = await lockPlanForCourse(tx, wanted.planId);
  refuseRetired(plan);
  if (sessions.length !== plan.sessions.length)
    throw new Problem(
      'invalid-request',
      `The plan "${plan.name}" has ${plan.sessions.length} sessions. Give a time for each of them, and no more.`,
    );
  refuseOtherKind(plan, wanted);
  const concessions = concessionRows(plan, wanted);
  for (const { priceMinor } of [wanted, ...concessions]) partsOfPrice(plan, priceMinor, 1);
  await getTaxRate(tx, wanted.taxRateId);
  if (!(await listRefundPolicies(tx)).some(({ id }) => id === wanted.refundPolicyId))
    throw new Problem(
      'not-found',
      'No refund policy has this id. Look for it on the page Studio.',
      see('studio', '/api/refund-policies'),
    );

  const dated = plan.sessions.flatMap(({ purpose }, i) => {
    const times = sessions[i];
    return times ? [{ ...times, purpose, ordinal: i + 1 }] : [];
  });
  await refuseTooSoon(tx, await getStudio(tx), plan, dated);
  const planned = await freeSessions(tx, wanted);
  const courseId = newId();
  const { balancePayments, balanceEveryDays } = { ...plan, ...terms };
  await tx.course.create({
    data: { id: courseId, ...terms, balancePayments, balanceEveryDays, concessions: { create: concessions } },
  });
  for (const [i, { startsAt, endsAt, room, benches, tutorIds, onClosedDay }] of planned.entries()) {
    const purpose = plan.sessions[i]?.purpose ?? 'making';
    await tx.session.create({
      data: {
        ...{ id: newId(), courseId, ordinal: i + 1, purpose, startsAt, endsAt, roomId: room.id, benches, onClosedDay },
        sessionTutors: { create: tutorIds.map((staffMemberId) => ({ staffMemberId, startsAt, endsAt })) },
      },
    });
  }
  return getCourse(tx, courseId);
}

export const keyOf = (id: string) => `course ${id}`;

export function getCourse(tx: Transaction, id: string): Promise<Course> {
  return once(tx, keyOf(id), () => readCourse(tx, id));
}

async function readCourse(tx: Transaction, id: string): Promise<Course> {
  const found = await tx.course.findUnique({ where: { id }, include: { ...WHOLE, taxRate: true } });
  if (!found) throw noCourse();
  const { taxRate, ...row } = found;
  rememberTaxRates(tx, [taxRate]); // whoever prices the course or sells its places asks for it next
  return show(row);
}

/** The course with the price that is asked for today. */
export async function getCourseToday(tx: Transaction, now: Date, id: string): Promise<Course> {
  return soldOn(await getCourse(tx, id), localDay(now, (await getStudio(tx)).timeZone));
}

/** The course with its row locked until this transaction ends: whoever counts or changes its places does this first. */
export async function lockCourse(tx: Transaction, id: string): Promise<Course> {
  if (!(await lockCourseRow(tx, id))) throw noCourse();
  changed(tx, keyOf(id)); // it may have waited for somebody who changed it
  return getCourse(tx, id);
}

/** The course as it is now that something of it was changed in this transaction. */
export function getChangedCourse(tx: Transaction, id: string): Promise<Course> {
  changed(tx, keyOf(id));
  return getCourse(tx, id);
}

/** Whether a course's first session has begun. */
export function hasBegun({ sessions }: Pick<CourseDates, 'sessions'>, now: Date): boolean {
  return sessions.some(({ startsAt }) => new Date(startsAt) <= now);
}

/** Notes that a course is over; what its bookings are owed for that is the business of who calls it. @returns the day */
export async function completeCourse(tx: Transaction, now: Date, id: string): Promise<string> {
  const course = await lockCourse(tx, id);
  const { completedOn, sessions } = course;
  refuseCancelled(course);
  if (completedOn !== null) {
    const day = formatDay(completedOn, (await getStudio(tx)).locale);
    throw new Problem('course-over', `The course has already been completed, on ${day}.`);
  }
  if (sessions.some(({ endsAt }) => new Date(endsAt) > now))
    throw new Problem('course-running', 'The last session is still to come or going on. Complete the course after it.');
  const today = localDay(now, (await getStudio(tx)).timeZone);
  await tx.course.update({ where: { id }, data: { completedOn: toDate(today) } });
  changed(tx, keyOf(id));
  return today;
}

/** Takes from the shelf what was weighed out for a course, also after it: late is better than not in the books at all. */
export async function drawForCourse(
  tx: Transaction,
  now: Date,
  courseId: string,
  wanted: NewCourseDraw,
): Promise<CourseDraw> {
  const { title, sessions } = await getCourse(tx, courseId);
  const { materialId, quantity, note = title, sessionId = null } = wanted;
  if (sessionId !== null && !sessions.some(({ id }) => id === sessionId))
    throw new Problem(
      'not-found',
      `"${title}" has no such session. Its sessions are shown with it on the page Courses.`,
      see('courses', `/api/courses/${courseId}`),
    );
  const { moveIds, foundQuantity } = await drawMaterial(tx, now, { materialId, quantity, note });
  await tx.courseDraw.createMany({ data: moveIds.map((stockMoveId) => ({ stockMoveId, courseId, sessionId })) });
  return { materialId, quantity, foundQuantity, moveIds };
}

/** What was drawn for a course, oldest first, and at which session, where that was noted. */
export async function listCourseDraws(tx: Transaction, courseId: string, query: PageQuery) {
  await getCourse(tx, courseId);
  const draws = await tx.courseDraw.findMany({
    where: { courseId, ...(query.after && { stockMoveId: { gt: query.after } }) },
    orderBy: { stockMoveId: 'asc' },
    take: query.limit + 1,
    include: { stockMove: { include: { material: { select: { name: true, unit: true } } } } },
  });
  const rows = draws.map(({ stockMove, sessionId }) => ({ ...stockMove, sessionId }));
  return page(rows, query, ({ id, materialId, material, quantity, at, note, sessionId }) => ({
    ...{ id, materialId, materialName: material.name, unit: material.unit, quantity: -quantity },
    ...{ at: at.toISOString(), note, sessionId },
  }));
}

export const noCourse = () =>
  new Problem('not-found', 'No course has this id. Look for it on the page Courses.', see('courses', '/api/courses'));

/** Nothing more is done with a course that was cancelled. */
export function refuseCancelled({ title, cancelled }: Pick<CourseDates, 'title' | 'cancelled'>): void {
  if (cancelled)
    throw new Problem(
      'course-over',
      `"${title}" was cancelled: ${sentenceOf(cancelled.because)} It stays as it was; choose another course.`,
    );
}

export const WHOLE = {
  plan: { select: { kind: true, groupOf: true } },
  concessions: { where: { isOffered: true }, orderBy: { ordinal: 'asc' } },
  sessions: {
    orderBy: { ordinal: 'asc' },
    include: { room: true, sessionTutors: { include: { staffMember: true }, orderBy: { staffMemberId: 'asc' } } },
  },
} as const satisfies Prisma.CourseInclude;

export function show(row: Prisma.CourseGetPayload<{ include: typeof WHOLE }>): Course {
  const {
    sessions: _,
    completedOn,
    decideOn,
    plan,
    concessions,
    cancelledAt,
    cancelledFor,
    cancelledBecause,
    laterPriceFrom,
    laterPriceMinor,
    bookableFrom,
    bookableUntil,
    ...rest
  } = row;
  return {
    ...rest,
    ...plan,
    concessions: concessions.map(({ id, label, priceMinor, atMost, payments }) => ({
      ...{ id, label, priceMinor, atMost, payments },
    })),
    completedOn: completedOn === null ? null : fromDate(completedOn),
    laterPrice:
      laterPriceFrom && laterPriceMinor ? { from: fromDate(laterPriceFrom), priceMinor: laterPriceMinor } : null,
    bookableFrom: bookableFrom && fromDate(bookableFrom),
    bookableUntil: bookableUntil && fromDate(bookableUntil),
    decideOn: decideOn === null ? null : fromDate(decideOn),
    cancelled:
      cancelledAt && cancelledFor && cancelledBecause !== null
        ? { at: cancelledAt.toISOString(), cause: cancelledFor, because: cancelledBecause }
        : null,
    ...sessionsOf(row),
  };
}

type Row = Prisma.CourseGetPayload<{ include: typeof WHOLE }>;

/** Those that take place, and the others; a course that was cancelled is shown with all of them as they were to be. */
function sessionsOf({ cancelledAt, sessions }: Row): Pick<Course, 'sessions' | 'cancelledSessions'> {
  const shown = sessions.map(({ room, sessionTutors, ...session }) => ({
    ...{ id: session.id, ordinal: session.ordinal, purpose: session.purpose },
    ...{ startsAt: session.startsAt.toISOString(), endsAt: session.endsAt.toISOString() },
    ...{ roomId: session.roomId, roomName: room.name, benches: session.benches },
    tutors: sessionTutors.map(({ staffMember }) => ({ id: staffMember.id, name: staffMember.name })),
    ...{ cancelledBecause: session.cancelledBecause, isAdded: session.isAdded },
  }));
  if (cancelledAt) return { sessions: shown, cancelledSessions: [] };
  return {
    sessions: shown.filter(({ cancelledBecause }) => cancelledBecause === null),
    cancelledSessions: shown.filter(({ cancelledBecause }) => cancelledBecause !== null),
  };
}
