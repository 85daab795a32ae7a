import { api, isAnswer, type Schemas } from '../../../api/client';
import { type CoursesFound, findCourses } from '../../../api/lists';

export type Was = Schemas['Afterwards'];
export type Line = Was['lines'][number];
export type NextPlan = Schemas['Proposals'];
export type Course = Schemas['CourseDates'];

/** The courses that have begun, the latest first, and the one that is asked for, which may be an earlier one. */
export type Begun = { courses: CoursesFound; wanted: Course | null };

/** The one chosen with what it came to; why not, where that can't be told. */
export type Told = Begun & { chosen: Course | null; was: Was | null; next: NextPlan | null; error: string };

export async function findBegun(courseId: string | undefined, signal: AbortSignal): Promise<Begun> {
  const [courses, wanted] = await Promise.all([
    findCourses({ is: 'begun', order: 'firstDayLast' }, signal),
    courseId ? api.GET('/api/courses/{courseId}', { params: { path: { courseId } }, signal }).catch(orNone) : null,
  ]);
  return { courses, wanted: wanted?.data ?? null };
}

/** A course that is not there is said so once, by what is asked of it next. */
function orNone(error: unknown): null {
  if (!isAnswer(error)) throw error;
  return null;
}

export async function readAfterwards(
  courseId: string | undefined,
  { courses, wanted }: Begun,
  signal: AbortSignal,
): Promise<Told> {
  const over = courses.items.find(({ completedOn }) => completedOn !== null); // of one that goes on much is still open
  const chosen = courseId ? wanted : (over ?? courses.items[0] ?? null);
  const id = courseId ?? chosen?.id;
  const nothing = { courses, wanted, chosen, was: null, next: null };
  if (!id) return { ...nothing, error: '' };
  const planId = chosen?.planId;
  try {
    const [was, next] = await Promise.all([
      api.GET('/api/courses/{courseId}/afterwards', { params: { path: { courseId: id } }, signal }),
      planId ? api.GET('/api/course-plans/{planId}/proposals', { params: { path: { planId } }, signal }) : null,
    ]);
    return { courses, wanted, chosen, was: was.data ?? null, next: next?.data ?? null, error: '' };
  } catch (error) {
    if (!isAnswer(error)) throw error;
    return { ...nothing, error: error.message };
  }
}
