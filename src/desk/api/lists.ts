import { fetchAllPages } from './all-pages';
import { api, Refused, type Schemas } from './client';

export const listCoursePlans = (signal: AbortSignal) =>
  fetchAllPages('which plans there are', (query) => api.GET('/api/course-plans', { params: { query }, signal }));

/** So many courses are offered to choose from at most; the others are found on the page Courses. */
const COURSES_MAX = 100;

export type CoursesFound = { items: Schemas['ListedCourse'][]; hasMore: boolean };

/** Some courses, in their order; `hasMore`: not all of them. */
export async function findCourses(
  query: { is: 'ahead'; order: 'firstDay' } | { is: 'begun'; order: 'firstDayLast' },
  signal: AbortSignal,
): Promise<CoursesFound> {
  const { data } = await api.GET('/api/courses', { params: { query: { ...query, limit: COURSES_MAX } }, signal });
  if (!data) throw new Refused('unknown', 'The server does not say which courses there are. Load the page again.');
  return { items: data.items, hasMore: data.next !== null };
}
