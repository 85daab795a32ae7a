import { api, isAnswer, type Schemas } from '../../../api/client';
import { listCourses } from '../../../api/lists';
import { formatterFor } from '../../../format/formatter';

export type Was = Schemas['Afterwards'];
export type Line = Was['lines'][number];
export type NextPlan = Schemas['Proposals'];
export type Course = Schemas['CourseDates'];

/** The courses that have begun, the latest first, and what the one chosen came to; why not, where that can't be told. */
export type Told = { courses: Course[]; chosen: string; was: Was | null; next: NextPlan | null; error: string };

export async function readAfterwards(
  me: Schemas['Me'],
  wanted: string | undefined,
  signal: AbortSignal,
): Promise<Told> {
  const courses = await begun(me, signal);
  const over = courses.find(({ completedOn }) => completedOn !== null); // of one that goes on much is still open
  const chosen = wanted ?? (over ?? courses[0])?.id ?? '';
  const nothing = { courses, chosen, was: null, next: null };
  if (!chosen) return { ...nothing, error: '' };
  try {
    const { data: was } = await api.GET('/api/courses/{courseId}/afterwards', {
      params: { path: { courseId: chosen } },
      signal,
    });
    const planId = courses.find(({ id }) => id === chosen)?.planId;
    const next =
      planId && (await api.GET('/api/course-plans/{planId}/proposals', { params: { path: { planId } }, signal })).data;
    return { courses, chosen, was: was ?? null, next: next || null, error: '' };
  } catch (error) {
    if (!isAnswer(error)) throw error;
    return { ...nothing, error: error.message };
  }
}

async function begun({ studio, today }: Schemas['Me'], signal: AbortSignal): Promise<Course[]> {
  if (!studio) return [];
  const { dayOf } = formatterFor(studio);
  const start = ({ sessions: [first] }: Course) => first?.startsAt ?? '';
  return (await listCourses(signal))
    .filter((course) => start(course) !== '' && dayOf(start(course)) <= today)
    .sort((a, b) => start(b).localeCompare(start(a)));
}
