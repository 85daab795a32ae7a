import { api, isAnswer, type Schemas } from '../../../api/client';
import { listCourses } from '../../../api/lists';

export type Priced = {
  courses: Schemas['CourseDates'][];
  price: Schemas['CoursePrice'] | Schemas['PrivatePrice'] | null;
  /** why a course has no price yet, and what to do */
  refusal: string;
};

/** Which courses are coming, and the price of the one chosen, or of the next. */
export async function getPrice(courseId: string | undefined, signal: AbortSignal): Promise<Priced> {
  const courses = await listComing(signal);
  const chosen = courseId ?? courses[0]?.id;
  if (!chosen) return { courses, price: null, refusal: '' };
  try {
    const params = { path: { courseId: chosen } };
    const { data } = await api.GET('/api/courses/{courseId}/price', { params, signal });
    return { courses, price: data ?? null, refusal: '' };
  } catch (error) {
    if (!isAnswer(error)) throw error;
    return { courses, price: null, refusal: error.message }; // another course can still be chosen
  }
}

/** Courses that are not over, the next first. */
async function listComing(signal: AbortSignal): Promise<Schemas['CourseDates'][]> {
  const start = (course: Schemas['CourseDates']) => course.sessions[0]?.startsAt ?? '';
  return (await listCourses(signal))
    .filter((course) => course.completedOn === null)
    .sort((a, b) => start(a).localeCompare(start(b)));
}
