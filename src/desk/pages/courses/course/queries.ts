import { fetchAllPages } from '../../../api/all-pages';
import { api, Refused, type Schemas } from '../../../api/client';
import type { Me } from '../../../api/use-me';
import type { Course } from '../labels';

export type Booking = Schemas['Booking'];
export type Draw = Schemas['DrawnForCourse'];
export type Attendee = Schemas['Register']['people'][number];
export type Change = Schemas['CourseChange'];
export type Terms = Schemas['Course'];

/** A course with what is known of it; null is what somebody without that right may not see. */
export type CourseRead = {
  course: Course;
  /** what it costs */
  terms: Terms | null;
  bookings: Booking[] | null;
  /** who comes, for somebody who may not see money */
  people: Attendee[];
  hazards: string[];
  draws: Draw[] | null;
  changes: Change[];
};

export async function readCourse(courseId: string, { rights }: Me, signal: AbortSignal): Promise<CourseRead> {
  const seesMoney = rights.includes('money:read');
  const params = { path: { courseId } };
  const [course, register, changes, terms, bookings, draws] = await Promise.all([
    api.GET('/api/courses/{courseId}/dates', { params, signal }),
    api.GET('/api/courses/{courseId}/register', { params, signal }),
    listChanges(courseId, signal),
    seesMoney ? api.GET('/api/courses/{courseId}', { params, signal }) : null,
    seesMoney ? listBookings(courseId, signal) : null,
    rights.includes('stock:read') ? listDraws(courseId, signal) : null,
  ]);
  if (!course.data || !register.data)
    throw new Refused('unknown', 'This course could not be loaded. Load the page again.');
  const { people, hazards } = register.data;
  return { course: course.data, terms: terms?.data ?? null, bookings, people, hazards, draws, changes };
}

const listBookings = (courseId: string, signal: AbortSignal): Promise<Booking[]> =>
  fetchAllPages('who has booked', (query) =>
    api.GET('/api/courses/{courseId}/bookings', { params: { path: { courseId }, query }, signal }),
  );

const listChanges = (courseId: string, signal: AbortSignal): Promise<Change[]> =>
  fetchAllPages('what was changed', (query) =>
    api.GET('/api/courses/{courseId}/changes', { params: { path: { courseId }, query }, signal }),
  );

const listDraws = (courseId: string, signal: AbortSignal): Promise<Draw[]> =>
  fetchAllPages('what was used', (query) =>
    api.GET('/api/courses/{courseId}/draws', { params: { path: { courseId }, query }, signal }),
  );
