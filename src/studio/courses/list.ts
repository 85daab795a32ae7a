import { inOrder } from '../../database/find-page.js';
import type { Transaction } from '../../database/transaction.js';
import { momentsOf } from '../settings/days.js';
import type { Course, CourseQuery, ListedCourse } from './contract.js';
import { findCourses, placesTaken } from './queries.js';
import { noCourse, show, WHOLE } from './service.js';

/** Courses as a tutor may see them. */
export async function listCourses(tx: Transaction, now: Date, query: CourseQuery) {
  const { ids, ...found } = await findCourses(tx, now, query, await momentsOf(tx, query));
  return { items: await coursesByIds(tx, now, ids), ...found };
}

/** One of them. */
export async function getListedCourse(tx: Transaction, now: Date, id: string): Promise<ListedCourse> {
  const [found] = await coursesByIds(tx, now, [id]);
  if (!found) throw noCourse();
  return found;
}

/** Those courses, in the order of their ids. */
export async function coursesByIds(tx: Transaction, now: Date, ids: readonly string[]): Promise<ListedCourse[]> {
  const include = { ...WHOLE, plan: { select: { name: true, kind: true, groupOf: true } } } as const;
  const rows = inOrder(ids, await tx.course.findMany({ where: { id: { in: [...ids] } }, include }));
  const taken = await placesTaken(tx, ids);
  return rows.map((row) => {
    const course = show(row);
    const {
      id,
      planId,
      kind,
      title,
      places,
      minimum,
      decideOn,
      note,
      bookableFrom,
      bookableUntil,
      ageFrom,
      ageTo,
      completedOn,
      cancelled,
      sessions,
      cancelledSessions,
    } = course;
    return {
      ...{ id, planId, kind, title, places, minimum, decideOn, note, completedOn, cancelled, sessions },
      ...{ cancelledSessions, bookableFrom, bookableUntil, ageFrom, ageTo },
      ...{
        planName: row.plan.name,
        state: stateOf(course, now),
        nextStartsAt: nextOf(course, now),
        placesTaken: taken.get(id)?.taken ?? 0,
      },
      placesMadeUp: taken.get(id)?.madeUp ?? 0,
    };
  });
}

function nextOf({ cancelled, sessions }: Course, now: Date): string | null {
  if (cancelled) return null;
  return sessions.find(({ endsAt }) => new Date(endsAt) > now)?.startsAt ?? null;
}

function stateOf({ completedOn, cancelled, sessions }: Course, now: Date): ListedCourse['state'] {
  if (cancelled) return 'cancelled';
  if (completedOn !== null) return 'completed';
  if (sessions.every(({ endsAt }) => new Date(endsAt) <= now)) return 'over';
  return sessions.some(({ startsAt }) => new Date(startsAt) <= now) ? 'running' : 'coming';
}
