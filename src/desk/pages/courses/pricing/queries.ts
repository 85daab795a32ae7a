import { api, isAnswer, type Schemas } from '../../../api/client';
import { type CoursesFound, findCourses } from '../../../api/lists';
import { type Assumption, listAssumptions } from '../../../basics/assumptions';

export type Priced = {
  courses: CoursesFound;
  price: Schemas['CoursePrice'] | Schemas['PrivatePrice'] | null;
  /** why a course has no price yet, and what to do */
  refusal: string;
  assumptions: Assumption[];
};

/** The courses that are not over, the next first. */
const findComing = (signal: AbortSignal): Promise<CoursesFound> =>
  findCourses({ is: 'ahead', order: 'firstDay' }, signal);

/** The price of the course chosen, or of the next of those that are coming; only that one waits for the list of them. */
export async function getPrice(courseId: string | undefined, signal: AbortSignal): Promise<Priced> {
  const coming = findComing(signal);
  const chosen = courseId ? getPriceOf(courseId, signal) : coming.then(({ items }) => getPriceOf(items[0]?.id, signal));
  const [courses, priced, assumptions] = await Promise.all([coming, chosen, listAssumptions(signal)]);
  return { courses, ...priced, assumptions };
}

async function getPriceOf(
  courseId: string | undefined,
  signal: AbortSignal,
): Promise<Pick<Priced, 'price' | 'refusal'>> {
  if (!courseId) return { price: null, refusal: '' };
  try {
    const { data } = await api.GET('/api/courses/{courseId}/price', { params: { path: { courseId } }, signal });
    return { price: data ?? null, refusal: '' };
  } catch (error) {
    if (!isAnswer(error)) throw error;
    return { price: null, refusal: error.message }; // another course can still be chosen
  }
}
