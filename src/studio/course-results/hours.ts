import type { Prisma } from '../../database/generated/client.js';
import type { Transaction } from '../../database/transaction.js';
import { fromDate, toDate } from '../../database/values.js';
import { newId } from '../../http/ids.js';
import { type PageQuery, page, pageArgs } from '../../http/paging.js';
import { invalidRequest, Problem, see } from '../../problems.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { getCourse, lockCourse } from '../courses/service.js';
import { getStudio } from '../settings/service.js';
import type { Hours, NewHours } from './hours-contract.js';

/**
 * Notes time that somebody worked for a course, also before it begins and long after it. What is noted stays; a correction is another
 * entry below zero, which takes back no more than that person was noted with for that work.
 */
export async function recordHours(tx: Transaction, now: Date, courseId: string, wanted: NewHours): Promise<Hours> {
  await lockCourse(tx, courseId);
  const { on, minutes, what, note, staffMemberId = null } = wanted;
  const today = localDay(now, (await getStudio(tx)).timeZone);
  if (on > today || on < EARLIEST) refuse('#/on', `must be between ${EARLIEST} and today, ${today}`);
  if (staffMemberId !== null && (await tx.staffMember.count({ where: { id: staffMemberId } })) === 0)
    throw new Problem(
      'not-found',
      'There is nobody of this id on the staff. Look for them on the page Studio.',
      see('studio', '/api/staff'),
    );
  const { _sum } = await tx.courseHours.aggregate({
    where: { courseId, what, staffMemberId },
    _sum: { minutes: true },
  });
  const noted = _sum.minutes ?? 0;
  if (noted + minutes < 0)
    refuse('#/minutes', `must take back at most the ${noted} minutes of ${what} that are noted for this person`);
  const row = await tx.courseHours.create({
    data: { id: newId(), courseId, what, minutes, workedOn: toDate(on), staffMemberId, note, notedAt: now },
    include: WITH_NAME,
  });
  return show(row);
}

/** All that was noted for a course, in the order of noting. */
export async function listHours(tx: Transaction, courseId: string, query: PageQuery) {
  await getCourse(tx, courseId);
  return page(await tx.courseHours.findMany({ include: WITH_NAME, ...pageArgs(query, { courseId }) }), query, show);
}

const EARLIEST = '2000-01-01';
const WITH_NAME = { staffMember: { select: { name: true } } } as const;

function refuse(pointer: string, detail: string): never {
  throw invalidRequest([{ pointer, detail }]);
}

function show(row: Prisma.CourseHoursGetPayload<{ include: typeof WITH_NAME }>): Hours {
  const { workedOn, staffMember, notedAt, ...rest } = row;
  return {
    ...rest,
    on: fromDate(workedOn),
    staffMemberName: staffMember?.name ?? null,
    notedAt: notedAt.toISOString(),
  };
}
